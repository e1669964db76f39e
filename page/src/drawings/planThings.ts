// What stands on the plan by name: centre line, gates, berths, basins, marks, numbers of room, and the ship herself.
import Feature from 'ol/Feature'
import Circle from 'ol/geom/Circle'
import LineString from 'ol/geom/LineString'
import Point from 'ol/geom/Point'
import Polygon from 'ol/geom/Polygon'
import CircleStyle from 'ol/style/Circle'
import Fill from 'ol/style/Fill'
import RegularShape from 'ol/style/RegularShape'
import Stroke from 'ol/style/Stroke'
import Style from 'ol/style/Style'
import Text from 'ol/style/Text'
import type { Assessment } from '../contract'
import { nearest } from '../lib/along'
import { clearance, length, withUnit } from '../lib/format'
import { inks, SANS, SERIF, type Inks } from '../lib/ink'
import { outline } from './planInk'

const [NUMBERS, NAMES, TIGHTEST] = [1, 2, 3] // which words stay where there is no room for all
const OUTSIDE = 15 // px from the edge of the fairway to a number

type At = readonly [number, number]

const east = ([x, y]: At): [number, number] => [y, x]

/** Everything that does not move with the cursor; numbers change with the start. */
export function things(answer: Assessment): Feature[] {
  const { account, plan } = answer
  const colours = inks()
  const made: Feature[] = []
  const add = (geometry: Point | LineString | Circle, style: Style | Style[] | ((resolution: number) => Style[])) => {
    const feature = new Feature(geometry)
    feature.setStyle(typeof style === 'function' ? (_, resolution) => style(resolution) : style)
    made.push(feature)
  }
  const way = account.x.map((x, i): [number, number] => [account.y[i] ?? 0, x])
  add(new LineString(way), new Style({ stroke: new Stroke({ color: colours.soft, width: 0.9, lineDash: [12, 3, 2, 3] }) }))
  for (const berth of plan.berths) {
    const face = new LineString([east(berth.begin), east(berth.end)])
    add(face, new Style({ stroke: new Stroke({ color: colours.ink, width: 4, lineCap: 'butt' }) }))
    add(new Point(face.getCoordinateAt(0.5)), name(berth.name, colours, 14))
  }
  for (const basin of plan.basins) {
    add(new Circle(east(basin.at), basin.diameter / 2), new Style({ stroke: new Stroke({ color: colours.soft, width: 1, lineDash: [2, 4] }) }))
    add(new Point(east(basin.at)), (resolution) =>
      basin.diameter / resolution > 60 ? [name(`${basin.name}, ${withUnit(length(basin.diameter, 0))}`, colours, 0)] : [],
    )
  }
  for (const mark of plan.marks) {
    add(new Point(east(mark.at)), (resolution) => [
      new Style({
        image: new CircleStyle({
          radius: mark.kind === 'buoy' ? 3.2 : 2.4,
          stroke: new Stroke({ color: colours.ink, width: 1.1 }),
          fill: new Fill({ color: mark.kind === 'buoy' ? colours.paper : colours.ink }),
        }),
      }),
      ...(resolution < 9 ? [name(mark.name, colours, 8)] : []),
    ])
  }
  gates(answer, colours, add)
  bends(answer, colours, add)
  numbers(answer, colours, add)
  return made
}

type Add = (geometry: Point | LineString | Circle, style: Style | Style[] | ((resolution: number) => Style[])) => void

/** A bar across the fairway, with the name and what there is. */
function gates(answer: Assessment, colours: Inks, add: Add): void {
  for (const gate of answer.plan.gates) {
    const passed = answer.gates.find((one) => one.name === gate.name)
    const station = nearest(answer.account.distance, passed?.distance.value ?? 0)
    const across = crossing(answer, station, 1.25)
    const broken = (passed?.margin.value ?? 0) < 0
    add(new LineString(across), [
      new Style({ stroke: new Stroke({ color: colours.paper, width: 7, lineCap: 'butt' }) }),
      new Style({ stroke: new Stroke({ color: colours.ink, width: 5, lineCap: 'butt' }) }),
      new Style({ stroke: new Stroke({ color: colours.paper, width: 2.2, lineCap: 'butt' }) }),
    ])
    const letter = answer.tightest.find((place) => place.limit === 'gate' && place.place === gate.name)?.letter ?? ''
    const text = passed ? `${gate.name}\n${letter} ${passed.value.text}` : gate.name
    const words = labelled(text, broken ? colours.alarm : colours.ink, colours, -8, -10, `600 13px ${SANS}`)
    words.setZIndex(TIGHTEST)
    add(new Point(across[0] ?? [0, 0]), words)
  }
}

/** Where each bend begins, a tick across the way with the rate of turn it takes. */
function bends(answer: Assessment, colours: Inks, add: Add): void {
  const { account } = answer
  answer.legs.forEach((leg) => {
    if (!leg.wheel_over_before || !leg.rate_of_turn) return
    const corner = answer.plan.waypoints.find((one) => one.name === leg.ends_at)
    if (!corner) return
    const [cos, sin] = [Math.cos(leg.course.value), Math.sin(leg.course.value)]
    const begin: At = [corner.at[0] - leg.wheel_over_before.value * cos, corner.at[1] - leg.wheel_over_before.value * sin]
    let best = 0
    account.x.forEach((x, i) => {
      const away = (k: number) => ((account.x[k] ?? 0) - begin[0]) ** 2 + ((account.y[k] ?? 0) - begin[1]) ** 2
      if ((x - begin[0]) ** 2 + ((account.y[i] ?? 0) - begin[1]) ** 2 < away(best)) best = i
    })
    add(new LineString(crossing(answer, best, 0.55)), new Style({ stroke: new Stroke({ color: colours.ink, width: 1.4 }) }))
    const end = crossing(answer, best, 0.55)[1] ?? [0, 0]
    add(new Point(end), (resolution) =>
      resolution < 6
        ? [labelled(`bend ${leg.alteration?.text ?? ''}\n${leg.rate_of_turn?.text ?? ''}`, colours.soft, colours, 6, 0, `12px ${SANS}`)]
        : [],
    )
  })
}

/** The net clearance beside her way, at places that stand clear of one another at this scale. */
function numbers(answer: Assessment, colours: Inks, add: Add): void {
  const { account } = answer
  const letters = new Map(answer.tightest.filter((place) => place.limit === 'underkeel').map((place) => [place.station, place]))
  account.distance.forEach((_, i) => {
    const net = account.net[i] ?? null
    if (net === null) return
    const side = crossing(answer, i, 1)[1] ?? [0, 0]
    const broken = (account.margin[i] ?? -1) < 0
    const place = letters.get(i)
    const course = account.course[i] ?? 0
    const colour = broken ? colours.alarm : colours.ink
    const [right, down] = [OUTSIDE * Math.cos(course), OUTSIDE * Math.sin(course)]
    const text = place ? `${place.letter} ${place.value.text}` : clearance(net, 1)
    const style = labelled(text, colour, colours, right, down, place ? `600 13px ${SANS}` : `12px ${SANS}`)
    style.setZIndex(place ? TIGHTEST : NUMBERS)
    add(new Point(side), (resolution) => {
      const stride = 2 ** Math.ceil(Math.log2(Math.max((64 * resolution) / 25, 1)))
      return place || i % stride === 0 ? [style] : []
    })
  })
}

/** From port to starboard edge of the fairway at a station, times a share; [east, north]. */
function crossing(answer: Assessment, station: number, share: number): [number, number][] {
  const { account, plan } = answer
  const course = account.course[station] ?? 0
  const half = plan.ship.beam / 2
  const at = (aside: number): [number, number] => [
    (account.y[station] ?? 0) + aside * Math.cos(course),
    (account.x[station] ?? 0) - aside * Math.sin(course),
  ]
  return [at(-((account.room_port[station] ?? 0) + half) * share), at(((account.room_starboard[station] ?? 0) + half) * share)]
}

function name(text: string, colours: Inks, away: number): Style {
  return labelled(text, colours.ink, colours, away, 0, `italic 13px ${SERIF}`)
}

function labelled(text: string, colour: string, colours: Inks, right: number, down: number, font: string): Style {
  return new Style({
    zIndex: NAMES,
    text: new Text({
      text,
      font,
      textAlign: Math.abs(right) < 5 ? 'center' : right < 0 ? 'right' : 'left',
      offsetX: right,
      offsetY: down,
      fill: new Fill({ color: colour }),
      stroke: new Stroke({ color: colours.paper, width: 5 }),
    }),
  })
}

/** The ship at a station: to scale, and ringed where the scale makes her too small to find. */
export function ship(answer: Assessment, station: number): Feature[] {
  const { account, plan } = answer
  const colours = inks()
  const x = account.x[station] ?? 0
  const y = account.y[station] ?? 0
  const course = account.course[station] ?? 0
  const hull = new Feature(new Polygon([outline(answer, x, y, course).map(east)]))
  hull.setStyle(new Style({ fill: new Fill({ color: colours.ink }), stroke: new Stroke({ color: colours.paper, width: 0.8 }) }))
  const ring = new Feature(new Point([y, x]))
  ring.setStyle((_, resolution) => {
    if (plan.ship.length_overall / resolution > 26) return []
    const along = { rotation: course, rotateWithView: true }
    return [
      new Style({ image: new CircleStyle({ radius: 12, stroke: new Stroke({ color: colours.mark, width: 1.8 }) }) }),
      new Style({
        image: new RegularShape({ points: 3, radius: 6, ...along, fill: new Fill({ color: colours.ink }), stroke: new Stroke({ color: colours.paper, width: 1 }), scale: [0.7, 1.2] }),
      }),
    ]
  })
  return [hull, ring]
}
