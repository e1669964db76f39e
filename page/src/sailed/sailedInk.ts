// The passage as it was on the plan: her outline at her true size and heading every so often, and the line she made.
import type { Assessment, SailedPassage } from '../contract'
import { toPixel, type Sheet } from '../drawings/planInk'
import { inks } from '../lib/ink'
import { HULL } from '../rehearsal/stageInk'

const APART = 1.2 // of her length between two outlines of her wake, so that they touch and do not cover each other

export function drawSailed(sheet: Sheet, answer: Assessment, found: SailedPassage): void {
  const { context } = sheet
  const { x, y, distance, heading } = found.stations
  const colours = inks()
  context.lineJoin = 'round'
  context.strokeStyle = colours.mark
  context.lineWidth = 2
  context.beginPath()
  x.forEach((north, i) => {
    const at = toPixel(sheet, north, y[i] ?? 0)
    if (i === 0) context.moveTo(...at)
    else context.lineTo(...at)
  })
  context.stroke()
  const { length_overall, beam } = answer.plan.ship
  if (length_overall / sheet.resolution < 12) return
  let next = -Infinity
  distance.forEach((along, i) => {
    if (along < next) return
    next = along + APART * length_overall
    hull(sheet, x[i] ?? 0, y[i] ?? 0, heading[i] ?? 0, length_overall, beam)
    context.fillStyle = colours.paper
    context.globalAlpha = 0.75
    context.fill()
    context.globalAlpha = 1
    context.strokeStyle = colours.ink
    context.lineWidth = 1.1
    context.stroke()
  })
}

function hull(sheet: Sheet, north: number, east: number, heading: number, length: number, beam: number): void {
  const [cos, sin] = [Math.cos(heading), Math.sin(heading)]
  const side = HULL.map(([ahead, aside]) => [ahead * length, aside * beam] as const)
  const points = [...side, ...side.slice(1).reverse().map(([ahead, aside]) => [ahead, -aside] as const)]
  sheet.context.beginPath()
  points.forEach(([ahead, aside], i) => {
    const at = toPixel(sheet, north + ahead * cos - aside * sin, east + ahead * sin + aside * cos)
    if (i === 0) sheet.context.moveTo(...at)
    else sheet.context.lineTo(...at)
  })
  sheet.context.closePath()
}
