// Lines across the way from side to side: what water lies abreast of her at each place, piece by piece. Geometry only.
import type { AccountShape, AreaShape, PlanShape } from '../contract'
import { stationAt } from './along'

/** Water of one depth on a line across: from and to, metres off the track, to starboard positive. */
export interface Piece {
  from: number
  to: number
  /** Below chart datum; null: unsurveyed. */
  depth: number | null
}

export interface CrossLine {
  x: number
  y: number
  course: number
  /** How fast the course changes along the way, to starboard positive. [rad/m] */
  bend: number
  station: number
  pieces: Piece[]
}

const WIDEST = 3 // times the widest fairway: farther abreast the water is not hers

/** Lines across the way, cut once for each spacing and kept: the way and the areas do not change with the start. */
export class CrossLines {
  #kept = new Map<number, CrossLine[]>()
  readonly #reach: number
  readonly #boxes: Float64Array[]

  constructor(
    readonly account: AccountShape,
    readonly plan: PlanShape,
  ) {
    this.#reach = WIDEST * Math.max(...plan.reaches.flatMap((reach) => [reach.width_port, reach.width_starboard]))
    this.#boxes = plan.areas.map((area) => box(area))
  }

  every(step: number): CrossLine[] {
    const known = this.#kept.get(step)
    if (known) return known
    const end = this.account.distance.at(-1) ?? 0
    const lines: CrossLine[] = []
    for (let distance = 0; distance <= end; distance += step) lines.push(this.#line(distance))
    this.#kept.set(step, lines)
    return lines
  }

  #line(distance: number): CrossLine {
    const { account } = this
    const station = stationAt(account, distance)
    const { x, y, course, bend } = this.#place(distance, station)
    const spans = this.plan.areas.flatMap((area, i) => this.#spans(area, i, x, y, course))
    const pieces = shallowest(spans).filter((piece) => this.#hers(piece, x, y, course, station))
    return { x, y, course, bend, station, pieces }
  }

  /** Where the line stands: between two stations it leans from the course of the one to that of the other. */
  #place(distance: number, nearest: number) {
    const { account } = this
    const after = (account.distance[nearest] ?? 0) <= distance ? nearest + 1 : nearest
    const to = Math.min(Math.max(after, 1), account.distance.length - 1)
    const [d1 = 0, d2 = 1] = account.distance.slice(to - 1, to + 1)
    const [x1 = 0, x2 = 0] = account.x.slice(to - 1, to + 1)
    const [y1 = 0, y2 = 0] = account.y.slice(to - 1, to + 1)
    const [c1 = 0, c2 = 0] = account.course.slice(to - 1, to + 1)
    const turn = Math.atan2(Math.sin(c2 - c1), Math.cos(c2 - c1))
    const share = (distance - d1) / (d2 - d1)
    return { x: x1 + share * (x2 - x1), y: y1 + share * (y2 - y1), course: c1 + share * turn, bend: turn / (d2 - d1) }
  }

  #spans(area: AreaShape, index: number, x: number, y: number, course: number): Piece[] {
    const [low, high, left, right] = this.#boxes[index] ?? new Float64Array(4)
    const reach = this.#reach
    if (low! > x + reach || high! < x - reach || left! > y + reach || right! < y - reach) return []
    const [ahead, aside] = [Math.cos(course), Math.sin(course)]
    const hits: number[] = []
    for (const ring of [area.ring, ...area.holes]) {
      let [px, py] = ring.at(-1) ?? [0, 0]
      let before = (px - x) * ahead + (py - y) * aside
      for (const [qx, qy] of ring) {
        const after = (qx - x) * ahead + (qy - y) * aside
        if (before < 0 !== after < 0) {
          const share = before / (before - after)
          hits.push(-(px + share * (qx - px) - x) * aside + (py + share * (qy - py) - y) * ahead)
        }
        ;[px, py, before] = [qx, qy, after]
      }
    }
    hits.sort((a, b) => a - b)
    const spans: Piece[] = []
    for (let i = 0; i + 1 < hits.length; i += 2) {
      const from = Math.max(hits[i] ?? 0, -reach)
      const to = Math.min(hits[i + 1] ?? 0, reach)
      if (to > from) spans.push({ from, to, depth: area.depth })
    }
    return spans
  }

  /** Whether this water is nearer to this place than to any other place of the way. */
  #hers(piece: Piece, x: number, y: number, course: number, station: number): boolean {
    const middle = (piece.from + piece.to) / 2
    const px = x - middle * Math.sin(course)
    const py = y + middle * Math.cos(course)
    const limit = (0.95 * Math.abs(middle)) ** 2
    return this.account.x.every((sx, i) => {
      return Math.abs(i - station) < 3 || (sx - px) ** 2 + ((this.account.y[i] ?? 0) - py) ** 2 >= limit
    })
  }
}

function box(area: AreaShape): Float64Array {
  const xs = area.ring.map((point) => point[0])
  const ys = area.ring.map((point) => point[1])
  return Float64Array.of(Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys))
}

/** Where areas lie over one another the shallowest counts, and unsurveyed water counts before all. */
function shallowest(spans: Piece[]): Piece[] {
  const edges = [...new Set(spans.flatMap((span) => [span.from, span.to]))].sort((a, b) => a - b)
  const found: Piece[] = []
  for (let i = 0; i + 1 < edges.length; i++) {
    const [from, to] = [edges[i] ?? 0, edges[i + 1] ?? 0]
    const here = spans.filter((span) => span.from <= from && span.to >= to)
    if (here.length === 0 || to - from < 0.1) continue
    const depth = here.some((span) => span.depth === null) ? null : Math.min(...here.map((span) => span.depth ?? 0))
    const before = found.at(-1)
    if (before && before.to === from && before.depth === depth) before.to = to
    else found.push({ from, to, depth })
  }
  return found
}

/** What she would have under her keel in a piece of water abreast of a station, with what is taken off there. [m] */
export function roomAbreast(account: AccountShape, station: number, depth: number | null): number | null {
  const net = account.net[station] ?? null
  const under = account.depth[station]
  return net === null || depth === null || under === undefined ? null : net + depth - under
}
