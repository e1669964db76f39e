// What all uPlot drawings of the sheet share: margins that line up, axes in our letters, a pen with names.
import 'uplot/dist/uPlot.min.css'
import uPlot from 'uplot'
import { inks, lettersReady, SANS, type Inks } from './ink'

export const LEFT = 52 // px: the same left margin for all drawings over one ruler, so that they line up
export const RIGHT = 14 // px

export type Draw = (pen: Pen) => void

/** A canvas in css pixels, with the scales of the plot and the inks of the look. */
export class Pen {
  readonly context: CanvasRenderingContext2D
  readonly ratio: number
  readonly inks: Inks
  readonly left: number
  readonly top: number
  readonly width: number
  readonly height: number

  constructor(readonly plot: uPlot) {
    this.context = plot.ctx
    this.ratio = devicePixelRatio
    this.inks = inks()
    const box = plot.bbox
    this.left = box.left / this.ratio
    this.top = box.top / this.ratio
    this.width = box.width / this.ratio
    this.height = box.height / this.ratio
  }

  x(value: number): number {
    return this.plot.valToPos(value, 'x') + this.left
  }

  y(value: number, scale = 'y'): number {
    return this.plot.valToPos(value, scale) + this.top
  }

  /** Clip to a box, draw, and leave everything as it was. */
  within(draw: () => void, top = this.top, height = this.height): void {
    const { context } = this
    context.save()
    context.scale(this.ratio, this.ratio)
    context.beginPath()
    context.rect(this.left, top, this.width, height)
    context.clip()
    draw()
    context.restore()
  }

  /** Draw outside the frame too. */
  free(draw: () => void): void {
    this.context.save()
    this.context.scale(this.ratio, this.ratio)
    draw()
    this.context.restore()
  }

  path(xs: readonly number[], ys: readonly number[]): void {
    const { context } = this
    context.beginPath()
    xs.forEach((x, i) => {
      if (i === 0) context.moveTo(x, ys[i] ?? 0)
      else context.lineTo(x, ys[i] ?? 0)
    })
  }

  /** The outline between two lines over the same places. */
  between(xs: readonly number[], upper: readonly number[], lower: readonly number[]): void {
    this.path([...xs, ...xs.toReversed()], [...upper, ...lower.toReversed()])
    this.context.closePath()
  }

  line(x1: number, y1: number, x2: number, y2: number, colour: string, width = 1, dash: number[] = []): void {
    const { context } = this
    context.strokeStyle = colour
    context.lineWidth = width
    context.setLineDash(dash)
    context.beginPath()
    context.moveTo(x1, y1)
    context.lineTo(x2, y2)
    context.stroke()
    context.setLineDash([])
  }

  /** Words with a rim of paper around them, so that no line runs through a letter. */
  words(text: string, x: number, y: number, options: Words = {}): void {
    const { context } = this
    const { align = 'left', colour = this.inks.ink, font = `12px ${SANS}`, baseline = 'alphabetic' } = options
    context.font = font
    context.textAlign = align
    context.textBaseline = baseline
    context.lineJoin = 'round'
    context.strokeStyle = this.inks.paper
    context.lineWidth = 4
    context.strokeText(text, x, y)
    context.fillStyle = colour
    context.fillText(text, x, y)
  }
}

export interface Words {
  align?: CanvasTextAlign
  colour?: string
  font?: string
  baseline?: CanvasTextBaseline
}

/** An axis in our letters, following the look. */
export function axis(options: uPlot.Axis): uPlot.Axis {
  return {
    stroke: () => inks().soft,
    font: `12px ${SANS}`,
    labelFont: `12px ${SANS}`,
    grid: { stroke: () => inks().faint, width: 1 },
    ticks: { stroke: () => inks().rule, width: 1, size: 4 },
    ...options,
  }
}

/** Put a plot into an element and keep it as wide as that is; returns how to draw again and how to take it out. */
export function mountPlot(
  element: HTMLElement,
  options: Omit<uPlot.Options, 'width'>,
  data: uPlot.AlignedData,
): { plot: uPlot; destroy: () => void } {
  const plot = new uPlot(
    { legend: { show: false }, cursor: { show: false }, ...options, width: Math.max(element.clientWidth, 120) },
    data,
    element,
  )
  const watch = new ResizeObserver(() => {
    const width = Math.max(element.clientWidth, 120)
    if (width !== plot.width) plot.setSize({ width, height: options.height })
  })
  watch.observe(element)
  void lettersReady().then(() => plot.redraw(false, true))
  return {
    plot,
    destroy: () => {
      watch.disconnect()
      plot.destroy()
    },
  }
}

/** Press or drag anywhere in the plot: calls back with the value under the pointer along x. */
export function dragged(plot: uPlot, moved: (value: number, done: boolean) => void): void {
  const over = plot.over
  const told = (event: PointerEvent, done: boolean) => {
    const box = over.getBoundingClientRect()
    moved(plot.posToVal(Math.min(Math.max(event.clientX - box.left, 0), box.width), 'x'), done)
  }
  over.addEventListener('pointerdown', (event) => {
    if (event.button !== 0) return
    over.setPointerCapture(event.pointerId)
    told(event, false)
  })
  over.addEventListener('pointermove', (event) => {
    if (over.hasPointerCapture(event.pointerId)) told(event, false)
  })
  over.addEventListener('pointerup', (event) => {
    if (over.hasPointerCapture(event.pointerId)) told(event, true)
  })
}
