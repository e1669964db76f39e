// What stands on the paper: depth areas, the way with its edges, gates, berths, basins, marks and stations, and the grips
// of the thing chosen. One set of signs with the plan; what is chosen is set in the mark's ink.
import Feature from 'ol/Feature'
import Circle from 'ol/geom/Circle'
import type Geometry from 'ol/geom/Geometry'
import LineString from 'ol/geom/LineString'
import MultiPolygon from 'ol/geom/MultiPolygon'
import Point from 'ol/geom/Point'
import CircleStyle from 'ol/style/Circle'
import Fill from 'ol/style/Fill'
import RegularShape from 'ol/style/RegularShape'
import Stroke from 'ol/style/Stroke'
import Style, { type StyleLike } from 'ol/style/Style'
import Text from 'ol/style/Text'
import { inks, SANS, SERIF, type Inks } from '../lib/ink'
import { number } from '../lib/format'
import { nameOf, positionOf, ringsOf, rows, thingOf, type Area, type Parts, type Ring } from './parts'
import type { At, Plane, Position } from './plane'
import { misfits, wayOf, type Way } from './way'

/** Something to drag: `waypoint:1`, `radius:1`, `port:0`, `starboard:0`, `begin:0`, `end:0`, `diameter:0`, `corner:0:12`, `between:0:12`, `gate:2` ... */
export type Grip = string

export const east = ([x, y]: At): [number, number] => [y, x]

const line = (points: readonly At[]) => new LineString(points.map(east))
const stroke = (color: string, width: number, lineDash?: number[]) => new Style({ stroke: new Stroke({ color, width, ...(lineDash ? { lineDash } : {}) }) })

function made(geometry: Geometry, style: StyleLike, thing = ''): Feature {
  const feature = new Feature(geometry)
  feature.setStyle(style)
  if (thing) feature.set('thing', thing)
  return feature
}

function words(text: string, colour: string, colours: Inks, right = 0, down = 0, font = `italic 13px ${SERIF}`): Style {
  return new Style({
    text: new Text({
      text,
      font,
      textAlign: right > 0 ? 'left' : 'center',
      offsetX: right,
      offsetY: down,
      fill: new Fill({ color: colour }),
      stroke: new Stroke({ color: colours.paper, width: 4 }),
    }),
  })
}

const shapes = new WeakMap<object, { plane: Plane; shape: MultiPolygon }>()

/** The shape of an area on the plane; kept while area and plane are the same. */
function shapeOf(area: Area, plane: Plane): MultiPolygon {
  const known = area.geometry ? shapes.get(area.geometry) : undefined
  if (known?.plane === plane) return known.shape
  const flat = (ring: Ring) => [...ring, ...ring.slice(0, 1)].map(([longitude, latitude]) => east(plane.toPlane([latitude, longitude])))
  const several = area.geometry?.type === 'MultiPolygon' && Array.isArray(area.geometry.coordinates)
  const pieces = several ? (area.geometry.coordinates as Ring[][]) : [ringsOf(area)].filter((rings) => rings.length > 0)
  const shape = new MultiPolygon(pieces.map((rings) => rings.map(flat)))
  if (area.geometry) shapes.set(area.geometry, { plane, shape })
  return shape
}

const SHEER = '80' // half, in the two digits after a colour

/** Depth areas, the chosen one last and set off; one without a depth is toned, as nothing is known of it. Sheer, the chart
    beneath shows through. */
export function areas(parts: Parts, plane: Plane, chosen: string, sheer: boolean): Feature[] {
  const colours = inks()
  const drawn = parts.areas.features.map((area, i) => {
    const thing = `area:${i}`
    const depth = area.properties?.depth_m
    const known = typeof depth === 'number'
    const own = thing === chosen
    const text = known ? number(depth, Number.isInteger(depth * 10) ? 1 : 2) : depth === 'unsurveyed' ? 'unsurveyed' : 'depth?'
    return made(
      shapeOf(area, plane),
      (feature, resolution) => {
        const water = feature.getGeometry() as MultiPolygon
        const room = Math.sqrt(Math.abs(water.getArea())) / resolution
        const shape = new Style({
          fill: new Fill({ color: (known ? colours.paper : colours.faint) + (sheer ? SHEER : '') }),
          stroke: new Stroke({ color: own ? colours.mark : colours.soft, width: own ? 2.6 : 0.8 }),
          zIndex: own ? 2 : 1,
        })
        if (room < 34 && !own) return [shape]
        const label = words(text, known ? colours.water : colours.alarm, colours, 0, 0, `${own ? '600 ' : ''}13px ${SANS}`)
        label.setGeometry(water.getInteriorPoints())
        label.setZIndex(3)
        return [shape, label]
      },
      thing,
    )
  })
  return drawn
}

export interface Drawn {
  features: Feature[]
  way: Way | null
  points: At[]
}

/** The way through those waypoints that have a place. */
export function wayIn(parts: Parts, plane: Plane): { way: Way; points: At[] } | null {
  const points = rows(parts, 'waypoint').map(positionOf)
  if (points.length < 2 || points.some((point) => point === null)) return null
  const flat = (points as Position[]).map((point) => plane.toPlane(point))
  const metres = (value: unknown) => (typeof value === 'number' && value > 0 ? value : 0)
  const radii = rows(parts, 'waypoint').map((row) => metres(row.bend_radius_m) || null)
  const widths = rows(parts, 'reach').map((row) => ({ port: metres(row.width_port_m), starboard: metres(row.width_starboard_m) }))
  return { way: wayOf(flat, radii, widths), points: flat }
}

export function things(parts: Parts, plane: Plane, chosen: string): Feature[] {
  const colours = inks()
  const features: Feature[] = []
  const found = wayIn(parts, plane)
  if (found) features.push(...wayThings(parts, found.way, found.points, chosen, colours))
  const ink = (thing: string) => (thing === chosen ? colours.mark : colours.ink)
  rows(parts, 'berth').forEach((berth, i) => {
    const ends = [berth.begin, berth.end].map((end) => positionOf(end as never))
    if (!ends[0] || !ends[1]) return
    const face = line([plane.toPlane(ends[0]), plane.toPlane(ends[1])])
    features.push(made(face, [stroke(colours.paper, 8), stroke(ink(`berth:${i}`), 4.5)], `berth:${i}`))
    features.push(made(new Point(face.getCoordinateAt(0.5)), named(nameOf(parts, `berth:${i}`), colours, 12)))
  })
  rows(parts, 'basin').forEach((basin, i) => {
    const at = positionOf(basin)
    const diameter = typeof basin.diameter_m === 'number' ? basin.diameter_m : 0
    if (!at) return
    const centre = east(plane.toPlane(at))
    features.push(made(new Circle(centre, Math.max(diameter / 2, 1)), stroke(ink(`basin:${i}`), 1.4, [2, 4]), `basin:${i}`))
    features.push(made(new Point(centre), [dot(ink(`basin:${i}`), colours, 2.5), named(nameOf(parts, `basin:${i}`), colours, 0, 14)], `basin:${i}`))
  })
  const point = (table: string, image: (thing: string) => Style[]) =>
    rows(parts, table).forEach((row, i) => {
      const at = positionOf(row)
      const thing = `${table}:${i}`
      if (at) features.push(made(new Point(east(plane.toPlane(at))), [...image(thing), named(nameOf(parts, thing), colours, 10)], thing))
    })
  point('gate', (thing) => [barred(ink(thing), colours)])
  point('mark', (thing) => [dot(ink(thing), colours, 3.4)])
  point('tide_station', (thing) => [pole(ink(thing), 4, 0)])
  point('stream_station', (thing) => [pole(ink(thing), 3, 0)])
  return features
}

function wayThings(parts: Parts, way: Way, points: At[], chosen: string, colours: Inks): Feature[] {
  const wrong = misfits(way)
  const features = [made(line(way.centre), stroke(colours.ink, 1.2, [12, 3, 2, 3]))]
  way.straights.forEach((straight, i) => {
    const thing = `reach:${i}`
    const own = thing === chosen
    for (const edge of [way.port[i] ?? [], way.starboard[i] ?? []]) features.push(made(line(edge), stroke(own ? colours.mark : colours.soft, own ? 2.4 : 1.2), thing))
    features.push(
      made(line([points[i] as At, points[i + 1] as At]), [stroke('transparent', 12), ...(own ? [stroke(colours.mark, 2)] : [])], thing),
      made(new Point(east(straight.middle)), (_, resolution) => (straight.length / resolution > 70 ? [named(nameOf(parts, thing), colours, 0, -9)] : []), thing),
    )
  })
  way.corners.forEach((corner, i) => {
    const thing = `waypoint:${i}`
    const colour = wrong.has(i) ? colours.alarm : thing === chosen ? colours.mark : colours.ink
    const legs = [points[i - 1], points[i + 1]].flatMap((next) => (next ? [line([corner.at, next])] : []))
    for (const leg of legs) if (wrong.has(i)) features.push(made(leg, stroke(colours.alarm, 1.6, [3, 4])))
    const text = [nameOf(parts, thing), wrong.get(i)].filter(Boolean).join('\n')
    features.push(made(new Point(east(corner.at)), [cross(colour, colours), words(text, colour, colours, 9, -10, `600 13px ${SANS}`)], thing))
  })
  return features
}

function named(text: string, colours: Inks, right: number, down = 0): Style {
  return words(text, colours.ink, colours, right, down)
}

function dot(colour: string, colours: Inks, radius: number): Style {
  return new Style({ image: new CircleStyle({ declutterMode: 'none', radius, stroke: new Stroke({ color: colour, width: 1.4 }), fill: new Fill({ color: colours.paper }) }) })
}

function cross(colour: string, colours: Inks): Style {
  return new Style({ image: new RegularShape({ declutterMode: 'none', points: 4, radius: 6.5, angle: 0, stroke: new Stroke({ color: colour, width: 1.8 }), fill: new Fill({ color: colours.paper }) }) })
}

function barred(colour: string, colours: Inks): Style {
  return new Style({ image: new RegularShape({ declutterMode: 'none', points: 4, radius: 7, angle: Math.PI / 4, stroke: new Stroke({ color: colour, width: 2.2 }), fill: new Fill({ color: colours.paper }), scale: [1.5, 0.55] }) })
}

function pole(colour: string, points: number, angle: number): Style {
  return new Style({ image: new RegularShape({ declutterMode: 'none', points, radius: 6, radius2: 1.6, angle, stroke: new Stroke({ color: colour, width: 1.3 }), fill: new Fill({ color: colour }) }) })
}

const APART = 16 // px; a handle nearer to its thing would be taken for it

/** What can be dragged of the thing chosen, at this scale. */
export function grips(parts: Parts, plane: Plane, chosen: string, ring: number, corner: number, resolution: number): Feature[] {
  const [table, index] = thingOf(chosen)
  const row = rows(parts, table)[index]
  if (!row) return []
  const colours = inks()
  const features: Feature[] = []
  const add = (grip: Grip, at: At, kind: 'place' | 'size' | 'between' = 'place', held = false) => {
    const feature = made(new Point(east(at)), grip_(colours, kind, held))
    feature.set('grip', grip)
    features.push(feature)
  }
  const found = wayIn(parts, plane)
  if (table === 'area') {
    ringsOf(parts.areas.features[index]).forEach((corners, r) => {
      const flat = corners.map(([longitude, latitude]) => plane.toPlane([latitude, longitude]))
      const apart = (one: At, other: At) => Math.hypot(one[0] - other[0], one[1] - other[1])
      flat.forEach((at, i) => {
        const next = flat[(i + 1) % flat.length] as At
        if (apart(at, next) > 2 * APART * resolution) add(`between:${r}:${i}`, [(at[0] + next[0]) / 2, (at[1] + next[1]) / 2], 'between')
      })
      let last: At | null = null
      flat.forEach((at, i) => {
        const own = r === ring && i === corner
        if (!own && last && apart(at, last) < APART * resolution) return
        add(`corner:${r}:${i}`, at, 'place', own)
        last = at
      })
    })
  } else if (table === 'reach' && found) {
    const straight = found.way.straights[index]
    if (straight) {
      const [north, east_] = [-Math.sin(straight.course), Math.cos(straight.course)]
      const width = (key: string) => (typeof row[key] === 'number' ? (row[key] as number) : 0)
      const aside = (by: number): At => [straight.middle[0] + by * north, straight.middle[1] + by * east_]
      add(`port:${index}`, aside(-width('width_port_m')), 'size')
      add(`starboard:${index}`, aside(width('width_starboard_m')), 'size')
    }
  } else if (table === 'berth') {
    for (const end of ['begin', 'end']) {
      const at = positionOf(row[end] as never)
      if (at) add(`${end}:${index}`, plane.toPlane(at))
    }
  } else {
    const at = positionOf(row)
    if (at) add(chosen, plane.toPlane(at))
    const diameter = row.diameter_m
    if (at && table === 'basin' && typeof diameter === 'number') {
      const [x, y] = plane.toPlane(at)
      add(`diameter:${index}`, [x, y + diameter / 2], 'size')
    }
    const bend = table === 'waypoint' ? found?.way.corners[index] : undefined
    if (bend && Math.hypot(bend.middle[0] - bend.at[0], bend.middle[1] - bend.at[1]) > APART * resolution) add(`radius:${index}`, bend.middle, 'size')
  }
  return features
}

function grip_(colours: Inks, kind: 'place' | 'size' | 'between', held: boolean): StyleLike {
  const edge = new Stroke({ color: colours.mark, width: held ? 3 : 1.8 })
  const fill = new Fill({ color: held ? colours.mark : colours.paper })
  if (kind === 'between') return [new Style({ image: new CircleStyle({ radius: 2.6, fill: new Fill({ color: colours.mark }) }) })]
  if (kind === 'size') return [new Style({ image: new RegularShape({ declutterMode: 'none', points: 4, radius: 8, angle: 0, stroke: edge, fill }) })]
  return [new Style({ image: new CircleStyle({ radius: 6.5, stroke: edge, fill }) })]
}

/** The corners laid so far of an area or hole. */
export function sketched(sketch: Ring, plane: Plane): Feature[] {
  const colours = inks()
  const flat = sketch.map(([longitude, latitude]) => plane.toPlane([latitude, longitude]))
  const points = flat.map((at) => made(new Point(east(at)), new Style({ image: new CircleStyle({ radius: 4, fill: new Fill({ color: colours.mark }) }) })))
  if (flat.length < 2) return points
  const ring = flat.length > 2 ? [...flat, flat[0] as At] : flat
  return [made(line(ring), stroke(colours.mark, 2, [6, 4])), ...points]
}
