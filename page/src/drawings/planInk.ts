// The ink of the plan: the shore of known water, the water abreast of her way ruled by room, her swept path.
import type { Assessment } from '../contract'
import { roomAbreast, type CrossLine, type CrossLines, type Piece } from '../lib/crosslines'
import { cover, inks, tint, type Inks } from '../lib/ink'

/** Pixels of a canvas for points [x north, y east] of the plane. */
export interface Sheet {
  context: CanvasRenderingContext2D
  east: number
  north: number
  /** Metres a css pixel. */
  resolution: number
  width: number
  height: number
}

const SPACINGS = [3.125, 6.25, 12.5, 25, 50, 100, 200, 400] // m between lines; halving keeps them in place while zooming
const CLOSEST = 3.6 // px
const THINNEST = 0.4 // px
const COVER_OF_SHORT = 0.32 // share of the paper, in each of the two rulings
const COVER_OF_NONE = 0.8

export function drawPlan(sheet: Sheet, answer: Assessment, lines: CrossLines): void {
  const colours = inks()
  water(sheet, answer, colours)
  const step = SPACINGS.find((metres) => metres / sheet.resolution >= CLOSEST) ?? 400
  const drawn = lines.every(step).filter((line) => inside(sheet, line.x, line.y, 800))
  for (const line of drawn) for (const piece of line.pieces) bar(sheet, line, piece, colours.paper, 1.05, step)
  for (const line of drawn) ruled(sheet, answer, line, step, colours)
  limits(sheet, answer, colours)
  if (answer.plan.ship.beam / sheet.resolution > 2.5) swept(sheet, answer, colours)
}

export function toPixel(sheet: Sheet, x: number, y: number): [number, number] {
  return [(y - sheet.east) / sheet.resolution, (sheet.north - x) / sheet.resolution]
}

function inside(sheet: Sheet, x: number, y: number, around: number): boolean {
  const [px, py] = toPixel(sheet, x, y)
  const more = around / sheet.resolution
  return px > -more && py > -more && px < sheet.width + more && py < sheet.height + more
}

function trace(sheet: Sheet, ring: readonly (readonly [number, number])[]): void {
  ring.forEach(([x, y], i) => {
    const [px, py] = toPixel(sheet, x, y)
    if (i === 0) sheet.context.moveTo(px, py)
    else sheet.context.lineTo(px, py)
  })
  sheet.context.closePath()
}

/** A line around all known water together: every edge drawn, then all of it filled; only what is abreast of her way
    becomes paper later, so that no water of which nothing is told looks ample. */
function water(sheet: Sheet, answer: Assessment, colours: Inks): void {
  const { context } = sheet
  context.lineJoin = 'round'
  for (const fill of [false, true]) {
    for (const area of answer.plan.areas) {
      context.beginPath()
      trace(sheet, area.ring)
      for (const hole of area.holes) trace(sheet, hole)
      context.strokeStyle = colours.ink
      context.lineWidth = 2.6
      context.fillStyle = colours.wash
      if (fill) context.fill('evenodd')
      else context.stroke()
    }
  }
}

/** Hairlines between areas of different depth. */
function limits(sheet: Sheet, answer: Assessment, colours: Inks): void {
  const { context } = sheet
  context.strokeStyle = colours.rule
  context.lineWidth = 0.7
  for (const area of answer.plan.areas) {
    context.beginPath()
    trace(sheet, area.ring)
    context.stroke()
  }
}

function ruled(sheet: Sheet, answer: Assessment, line: CrossLine, step: number, colours: Inks): void {
  const required = answer.account.required[line.station] ?? 0
  for (const piece of line.pieces) {
    const room = roomAbreast(answer.account, line.station, piece.depth)
    const kind = tint(room, required)
    if (kind === 'bare') continue
    if (kind === 'ruled') bar(sheet, line, piece, colours.ink, cover(room ?? 0, required), step)
    else {
      const hers = piece.from <= 0 && piece.to >= 0
      const colour = hers ? colours.alarm : kind === 'none' ? colours.none : colours.ink
      bar(sheet, line, piece, colour, kind === 'none' ? COVER_OF_NONE : COVER_OF_SHORT, step)
      if (kind === 'short') lengthwise(sheet, line, piece, colour, step)
    }
  }
}

function off(line: CrossLine, aside: number, ahead = 0): [number, number] {
  const [cos, sin] = [Math.cos(line.course), Math.sin(line.course)]
  return [line.x + ahead * cos - aside * sin, line.y + ahead * sin + aside * cos]
}

/** How far it is to the next line, off the way: in a bend less on the inner side, more on the outer. */
function apart(line: CrossLine, aside: number, step: number): number {
  return step * Math.max(1 - line.bend * aside, 0)
}

/** A line across that covers the same share of the water all along it, though lines spread in a bend. */
function bar(sheet: Sheet, line: CrossLine, piece: Piece, colour: string, share: number, step: number): void {
  const half = (aside: number) => Math.max(share * apart(line, aside, step), THINNEST * sheet.resolution) / 2
  const { context } = sheet
  context.fillStyle = colour
  context.beginPath()
  context.moveTo(...toPixel(sheet, ...off(line, piece.from, -half(piece.from))))
  context.lineTo(...toPixel(sheet, ...off(line, piece.to, -half(piece.to))))
  context.lineTo(...toPixel(sheet, ...off(line, piece.to, half(piece.to))))
  context.lineTo(...toPixel(sheet, ...off(line, piece.from, half(piece.from))))
  context.fill()
}

/** The second ruling of water that is too shallow: strokes along the way, from this line to the next. */
function lengthwise(sheet: Sheet, line: CrossLine, piece: Piece, colour: string, step: number): void {
  const { context } = sheet
  context.strokeStyle = colour
  context.lineWidth = COVER_OF_SHORT * (step / sheet.resolution)
  context.beginPath()
  for (let aside = Math.ceil(piece.from / step) * step; aside <= piece.to; aside += step) {
    context.moveTo(...toPixel(sheet, ...off(line, aside)))
    context.lineTo(...toPixel(sheet, ...off(line, aside, apart(line, aside, step))))
  }
  context.stroke()
}

/** The edge of the water she covers: her outline drawn at every station, then all of it rubbed out inside. */
function swept(sheet: Sheet, answer: Assessment, colours: Inks): void {
  const layer = document.createElement('canvas')
  layer.width = sheet.context.canvas.width
  layer.height = sheet.context.canvas.height
  const context = layer.getContext('2d')
  if (!context) return
  context.setTransform(sheet.context.getTransform())
  const path = { ...sheet, context }
  const { x, y, course } = answer.account
  const outlines = x.flatMap((north, i) => {
    const east = y[i] ?? 0
    return inside(sheet, north, east, 300) ? [outline(answer, north, east, course[i] ?? 0)] : []
  })
  for (const rub of [false, true]) {
    context.globalCompositeOperation = rub ? 'destination-out' : 'source-over'
    for (const ring of outlines) {
      context.beginPath()
      trace(path, ring)
      context.strokeStyle = colours.soft
      context.lineWidth = 1.8
      if (rub) context.fill()
      else context.stroke()
    }
  }
  const target = sheet.context
  target.save()
  target.resetTransform()
  target.drawImage(layer, 0, 0)
  target.restore()
}

/** Her outline from above, drawn to scale: [x north, y east]. */
export function outline(answer: Assessment, x: number, y: number, course: number): [number, number][] {
  const half = answer.plan.ship.length_overall / 2
  const side = answer.plan.ship.beam / 2
  const shape: [number, number][] = [
    [half, 0],
    [half * 0.9, side * 0.42],
    [half * 0.66, side * 0.9],
    [half * 0.5, side],
    [-half * 0.92, side],
    [-half, side * 0.8],
  ]
  const mirrored = shape.slice(1).reverse().map(([ahead, aside]): [number, number] => [ahead, -aside])
  const [cos, sin] = [Math.cos(course), Math.sin(course)]
  return [...shape, ...mirrored].map(([ahead, aside]) => [x + ahead * cos - aside * sin, y + ahead * sin + aside * cos])
}
