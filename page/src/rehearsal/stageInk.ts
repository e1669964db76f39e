// The stage of a replay: the plan as ever, the swath the drawn runs stayed in, her wake of outlines, and she herself.
import type { Assessment } from '../contract'
import { drawPlan, toPixel, type Sheet } from '../drawings/planInk'
import { nearest, stationNear } from '../lib/along'
import type { CrossLines } from '../lib/crosslines'
import { inks, SANS, type Inks } from '../lib/ink'
import type { Ensemble, Moments } from './reply'

const SHARES = ['99', '95', '50'] as const
const WAKE = 60 // s between two outlines of her wake
const CLEAR_OF_WAY = 200 // m from the track to a name beside it
/** One side of a deck line, bow first: shares of her length ahead and of her beam aside. */
export const HULL: [number, number][] = [
  [0.5, 0],
  [0.44, 0.24],
  [0.34, 0.42],
  [0.2, 0.5],
  [-0.38, 0.5],
  [-0.5, 0.38],
]

export function drawGround(sheet: Sheet, answer: Assessment, lines: CrossLines, ensemble: Ensemble | null): void {
  const colours = inks()
  sheet.context.fillStyle = colours.paper
  sheet.context.fillRect(0, 0, sheet.width, sheet.height)
  drawPlan(sheet, answer, lines)
  fixtures(sheet, answer, colours)
  if (ensemble) for (const share of SHARES) swath(sheet, answer, ensemble, share, colours)
  line(sheet, answer, colours)
}

export function drawShip(sheet: Sheet, answer: Assessment, moments: Moments, time: number): void {
  const { context } = sheet
  const colours = inks()
  context.clearRect(0, 0, sheet.width, sheet.height)
  context.lineJoin = 'round'
  for (let then = Math.floor(time / WAKE) * WAKE; then >= 0; then -= WAKE) {
    outline(sheet, answer, moments, then)
    context.strokeStyle = colours.soft
    context.lineWidth = 0.8
    context.stroke()
  }
  outline(sheet, answer, moments, time)
  context.fillStyle = colours.paper
  context.fill()
  context.strokeStyle = colours.mark
  context.lineWidth = 2.4
  context.stroke()
}

/** Her deck line, bow by heading, at least so large that she is seen. */
function outline(sheet: Sheet, answer: Assessment, moments: Moments, time: number): void {
  const [north, east, heading] = ['north', 'east', 'heading'].map((name) => moments.value(name, time) ?? 0)
  const { length_overall, beam } = answer.plan.ship
  const grown = Math.max(1, (14 * sheet.resolution) / length_overall)
  const [cos, sin] = [Math.cos(heading ?? 0), Math.sin(heading ?? 0)]
  const half = HULL.map(([ahead, aside]) => [ahead * length_overall * grown, aside * beam * grown] as const)
  const points = [...half, ...half.slice(1).reverse().map(([ahead, aside]) => [ahead, -aside] as const)]
  sheet.context.beginPath()
  points.forEach(([ahead, aside], i) => {
    const at = toPixel(sheet, (north ?? 0) + ahead * cos - aside * sin, (east ?? 0) + ahead * sin + aside * cos)
    if (i === 0) sheet.context.moveTo(...at)
    else sheet.context.lineTo(...at)
  })
  sheet.context.closePath()
}

/** Where so many percent of the drawn runs kept all of the ship: its two edges, as lines of their own kind. */
function swath(sheet: Sheet, answer: Assessment, ensemble: Ensemble, share: (typeof SHARES)[number], colours: Inks): void {
  const rows = ensemble.envelope[share] as (number | null)[][]
  const { account } = answer
  const { context } = sheet
  context.strokeStyle = colours.mark
  context.setLineDash(share === '50' ? [] : share === '95' ? [6, 3] : [1.5, 3])
  context.lineWidth = share === '50' ? 1.6 : 1.3
  for (const side of [0, 1] as const) {
    context.beginPath()
    let begun = false
    ensemble.envelope.distance.forEach((distance, i) => {
      const reach = rows[i]?.[side] ?? null
      if (reach === null) {
        begun = false
        return
      }
      const station = nearest(account.distance, distance)
      const aside = side === 0 ? -reach : reach
      const course = account.course[station] ?? 0
      const at = toPixel(sheet, (account.x[station] ?? 0) - aside * Math.sin(course), (account.y[station] ?? 0) + aside * Math.cos(course))
      if (begun) context.lineTo(...at)
      else context.moveTo(...at)
      begun = true
    })
    context.stroke()
  }
  for (const ring of ensemble.slow_work?.[share] ?? []) {
    context.beginPath()
    ring.forEach(([north, east], i) => {
      const at = toPixel(sheet, north, east)
      if (i === 0) context.moveTo(...at)
      else context.lineTo(...at)
    })
    context.closePath()
    context.stroke()
  }
  context.setLineDash([])
}

function line(sheet: Sheet, answer: Assessment, colours: Inks): void {
  const { context } = sheet
  context.beginPath()
  answer.account.x.forEach((x, i) => {
    const at = toPixel(sheet, x, answer.account.y[i] ?? 0)
    if (i === 0) context.moveTo(...at)
    else context.lineTo(...at)
  })
  context.strokeStyle = colours.ink
  context.lineWidth = 0.8
  context.stroke()
}

/** A name with a rim of paper, so that no line runs through a letter. */
function named(sheet: Sheet, text: string, x: number, y: number, colours: Inks): void {
  const { context } = sheet
  context.lineJoin = 'round'
  context.lineWidth = 4
  context.strokeStyle = colours.paper
  context.strokeText(text, x, y)
  context.fillText(text, x, y)
  context.strokeStyle = colours.ink
}

/** A name abreast of the way, clear of it: to the right of a way up the paper, above one across it. */
function besideTheWay(sheet: Sheet, answer: Assessment, gate: Assessment['plan']['gates'][number], colours: Inks): void {
  const [x, y] = toPixel(sheet, ...gate.at)
  const course = answer.account.course[stationNear(answer.account, ...gate.at)] ?? 0
  const [cos, sin] = [Math.cos(course), Math.sin(course)] // her starboard side on the paper: right, down
  const side = Math.abs(cos) > Math.abs(sin) ? Math.sign(cos) : -Math.sign(sin)
  const away = side * (CLEAR_OF_WAY / sheet.resolution + 8)
  sheet.context.textAlign = Math.abs(cos) < 0.3 ? 'center' : side * cos > 0 ? 'left' : 'right'
  named(sheet, gate.name, x + away * cos, y + away * sin + 4, colours)
  sheet.context.textAlign = 'left'
}

/** Quays, basins and what stands across the way, each with its name. */
function fixtures(sheet: Sheet, answer: Assessment, colours: Inks): void {
  const { context } = sheet
  context.strokeStyle = colours.ink
  context.fillStyle = colours.ink
  context.font = `13px ${SANS}`
  for (const berth of answer.plan.berths) {
    context.lineWidth = 4
    context.beginPath()
    context.moveTo(...toPixel(sheet, ...berth.begin))
    context.lineTo(...toPixel(sheet, ...berth.end))
    context.stroke()
    const [x, y] = toPixel(sheet, ...berth.end)
    const aside = x + context.measureText(berth.name).width + 12 > sheet.width ? -8 : 8
    context.textAlign = aside < 0 ? 'right' : 'left'
    named(sheet, berth.name, x + aside, y - 6, colours)
    context.textAlign = 'left'
  }
  for (const basin of answer.plan.basins) {
    const [x, y] = toPixel(sheet, ...basin.at)
    context.lineWidth = 1
    context.beginPath()
    context.arc(x, y, basin.diameter / 2 / sheet.resolution, 0, 2 * Math.PI)
    context.stroke()
  }
  for (const gate of answer.plan.gates) {
    const [x, y] = toPixel(sheet, ...gate.at)
    context.fillRect(x - 3, y - 3, 6, 6)
    besideTheWay(sheet, answer, gate, colours)
  }
}
