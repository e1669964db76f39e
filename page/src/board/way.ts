// The track as straights and arcs, its edges, and whether its bends fit: the geometry of leadsman/geometry.py, for the eye.
import type { At } from './plane'

const STEP = 25 // m between the points an edge is drawn by

export interface Corner {
  at: At
  radius: number | null
  /** Change of course, to starboard positive. [rad] */
  deflection: number
  /** From the waypoint to where the arc begins. [m] */
  tangent: number
  /** The middle of the arc, and the direction from the waypoint to it. */
  middle: At
  inward: At
}

export interface Straight {
  /** Course. [rad] */
  course: number
  length: number
  /** Metres of it that the bends at its ends need. */
  needed: number
  middle: At
}

export interface Way {
  corners: Corner[]
  straights: Straight[]
  centre: At[]
  port: At[][]
  starboard: At[][]
}

export interface Width {
  port: number
  starboard: number
}

/** The way through these waypoints; a radius not known is drawn as a corner. */
export function wayOf(points: At[], radii: (number | null)[], widths: Width[]): Way {
  const straights = points.slice(1).map((next, i): Straight => {
    const [x, y] = points[i] as At
    const [north, east] = [next[0] - x, next[1] - y]
    return { course: Math.atan2(east, north), length: Math.hypot(north, east), needed: 0, middle: [x + north / 2, y + east / 2] }
  })
  const corners = points.map((at, i) => cornerOf(at, straights[i - 1], straights[i], radii[i] ?? null))
  straights.forEach((straight, i) => {
    straight.needed = (corners[i]?.tangent ?? 0) + (corners[i + 1]?.tangent ?? 0)
    const [from, to] = [end(points[i] as At, straight.course, corners[i]?.tangent ?? 0), end(points[i + 1] as At, straight.course, -(corners[i + 1]?.tangent ?? 0))]
    straight.middle = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2]
  })
  return { corners, straights, ...edges(corners, straights, widths) }
}

function cornerOf(at: At, before: Straight | undefined, after: Straight | undefined, radius: number | null): Corner {
  if (!before || !after) return { at, radius: null, deflection: 0, tangent: 0, middle: at, inward: [0, 0] }
  const deflection = turned(before.course, after.course)
  const half = Math.abs(deflection) / 2
  const towards = before.course + deflection / 2 + (Math.sign(deflection) || 1) * (Math.PI / 2)
  const inward: At = [Math.cos(towards), Math.sin(towards)]
  const far = Math.min((radius ?? 0) * (1 / Math.cos(half) - 1), 1e6)
  const middle: At = [at[0] + far * inward[0], at[1] + far * inward[1]]
  return { at, radius, deflection, tangent: (radius ?? 0) * Math.tan(half), middle, inward }
}

/** The radius whose arc passes this far inside the waypoint. */
export function radiusAt(corner: Corner, inside: number): number {
  return inside / (1 / Math.cos(Math.abs(corner.deflection) / 2) - 1)
}

function turned(from: number, to: number): number {
  return ((to - from + 3 * Math.PI) % (2 * Math.PI)) - Math.PI
}

function end(at: At, course: number, ahead: number): At {
  return [at[0] + ahead * Math.cos(course), at[1] + ahead * Math.sin(course)]
}

function edges(corners: Corner[], straights: Straight[], widths: Width[]): Pick<Way, 'centre' | 'port' | 'starboard'> {
  const centre: At[] = []
  const port: At[][] = straights.map(() => [])
  const starboard: At[][] = straights.map(() => [])
  const add = (reach: number, at: At, course: number) => {
    const width = widths[reach] ?? { port: 0, starboard: 0 }
    const [north, east] = [-Math.sin(course), Math.cos(course)]
    centre.push(at)
    port[reach]?.push([at[0] - width.port * north, at[1] - width.port * east])
    starboard[reach]?.push([at[0] + width.starboard * north, at[1] + width.starboard * east])
  }
  straights.forEach((straight, i) => {
    const [first, last] = [corners[i], corners[i + 1]]
    if (!first || !last) return
    if (first.tangent > 0) arc(first, straights[i - 1]?.course ?? 0, 0.5, 1, (at, course) => add(i, at, course))
    add(i, end(first.at, straight.course, first.tangent), straight.course)
    add(i, end(last.at, straight.course, -last.tangent), straight.course)
    if (last.tangent > 0) arc(last, straight.course, 0, 0.5, (at, course) => add(i, at, course))
  })
  return { centre, port, starboard }
}

/** Points of a share of an arc, from where it begins (0) to where it ends (1). */
function arc(corner: Corner, course: number, from: number, to: number, add: (at: At, course: number) => void): void {
  const radius = corner.radius ?? 0
  const side = Math.sign(corner.deflection) || 1
  const begin = end(corner.at, course, -corner.tangent)
  const steps = Math.max(4, Math.ceil((radius * Math.abs(corner.deflection) * (to - from)) / STEP))
  for (let step = 0; step <= steps; step++) {
    const along = course + corner.deflection * (from + ((to - from) * step) / steps)
    const x = begin[0] + side * radius * (Math.sin(along) - Math.sin(course))
    const y = begin[1] - side * radius * (Math.cos(along) - Math.cos(course))
    add([x, y], along)
  }
}

/** What is wrong with the bends, by waypoint: in place, before the server has spoken. */
export function misfits(way: Way): Map<number, string> {
  const found = new Map<number, string>()
  way.straights.forEach((straight, i) => {
    if (straight.needed <= straight.length) return
    const sentence = `bends need ${Math.ceil(straight.needed)} m of this reach, it has ${Math.floor(straight.length)} m`
    for (const corner of [i, i + 1]) if ((way.corners[corner]?.tangent ?? 0) > 0) found.set(corner, sentence)
  })
  return found
}

/** The nearest reach to a place, and how far along it lies, from 0 to 1. */
export function reachNear(points: At[], [x, y]: At): { reach: number; share: number; away: number } {
  let best = { reach: 0, share: 0.5, away: Infinity }
  points.slice(1).forEach((next, i) => {
    const [fromX, fromY] = points[i] as At
    const [north, east] = [next[0] - fromX, next[1] - fromY]
    const along = ((x - fromX) * north + (y - fromY) * east) / (north ** 2 + east ** 2 || 1)
    const share = Math.min(Math.max(along, 0), 1)
    const away = Math.hypot(fromX + share * north - x, fromY + share * east - y)
    if (away < best.away) best = { reach: i, share, away }
  })
  return best
}
