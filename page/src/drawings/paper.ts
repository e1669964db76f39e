// A canvas as paper to draw a plan on: how much of the water it shows, and its points in metres.
import type { AccountShape } from '../contract'
import type { Sheet } from './planInk'

/** The middle of the paper, metres north and east, and metres a pixel. */
export interface View {
  north: number
  east: number
  resolution: number
}

interface Box {
  width: number
  height: number
}

const MARGIN = 30 // pixels about the whole way
const BESIDE = 200 // m

export function wholeWay({ x, y }: AccountShape, box: Box): View {
  const [north, south] = [Math.max(...x) + BESIDE, Math.min(...x) - BESIDE]
  const [east, west] = [Math.max(...y) + BESIDE, Math.min(...y) - BESIDE]
  const resolution = Math.max((north - south) / (box.height - MARGIN), (east - west) / (box.width - MARGIN))
  return { north: (north + south) / 2, east: (east + west) / 2, resolution }
}

/** The canvas made as sharp as the screen; null where it cannot be drawn on. */
export function paperOf(canvas: HTMLCanvasElement, box: Box, view: View): Sheet | null {
  const context = canvas.getContext('2d')
  if (!context) return null
  const sharp = devicePixelRatio
  const [width, height] = [Math.round(box.width * sharp), Math.round(box.height * sharp)]
  if (canvas.width !== width || canvas.height !== height) Object.assign(canvas, { width, height })
  context.setTransform(sharp, 0, 0, sharp, 0, 0)
  return {
    context,
    east: view.east - (box.width / 2) * view.resolution,
    north: view.north + (box.height / 2) * view.resolution,
    resolution: view.resolution,
    width: box.width,
    height: box.height,
  }
}
