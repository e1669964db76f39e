// The answer of a rehearsal (`leadsman.rehearsal/1`), SI and radians, as the server keeps it beside the call.
export interface Order {
  time: number
  distance: number
  kind: string
  words: string
}

export interface Least {
  quantity: string
  value: number | null
  distance: number
  place: string
}

/** What was asked of engines and thrusters: shares of full, seconds. */
export interface Machinery {
  ahead: number
  astern: number
  astern_longest: number
  astern_until: number
  astern_in_all: number
  /** Which gave thrust longest at one go; empty where none was used. */
  thruster: string
  thruster_longest: number
  thruster_until: number
  thruster_in_all: number
  /** Null where no engine starts on air. */
  air: {
    at_first: number
    made: number
    left: number
    left_at: number
    refused: number
    waited: number
    first_refused: { order: string; time: number; distance: number; place: string } | null
  } | null
}

export interface Run {
  number: number
  ended: string
  success: boolean
  why: string
  advice: string[]
  time: number
  least: Least[]
  rudder: number
  rate_of_turn: number
  thruster: number
  tugs: number
  /** An answer kept from before does not say. */
  machinery?: Machinery
  landing: { speed: number; angle: number; place: number; limit: number } | null
  orders: Order[]
  wheel_orders: number
  engine_orders: number
  columns: string[]
  track: (number | null)[][]
}

export interface Tight {
  quantity: string
  place: string
  distance: number
  usual: number
  one_in_twenty: number
}

export interface Ensemble {
  runs: number
  seed: number
  successes: number
  rate: number
  low: number
  high: number
  reasons: Record<string, number>
  tight: Tight[]
  matters: { name: string; success: number; room: number; landing: number }[]
  envelope: { distance: number[] } & Record<string, (number | null)[][] | number[]>
  /** Outlines of what she covers in slow work, (north, east) on the plane; an answer kept from before has none. */
  slow_work?: Record<string, [number, number][][]>
  worst: Run | null
  /** Runs in which an order found no air, and starts left at the least; an answer kept from before says neither. */
  without_air?: number
  starts_left?: number | null
}

export interface Told {
  grade: string
  subject: string
  sentence: string
}

export interface Rehearsal {
  schema: string
  caution: string
  call: string
  ship: string
  berth: string
  start: string
  fingerprint: string
  estimated: string[]
  findings?: Told[]
  planned: Run
  ensemble: Ensemble | null
}

/** One moment of a run by the name of its column; between two moments of the track, in a straight line. */
export class Moments {
  readonly times: number[]
  readonly #columns: Map<string, number>

  constructor(readonly run: Run) {
    this.#columns = new Map(run.columns.map((name, i) => [name, i]))
    const at = this.#columns.get('time') ?? 0
    this.times = run.track.map((row) => row[at] ?? 0)
  }

  get end(): number {
    return this.times.at(-1) ?? 0
  }

  /** The row at or before a time. */
  row(time: number): number {
    let [low, high] = [0, this.times.length - 1]
    while (low < high) {
      const middle = Math.ceil((low + high) / 2)
      if ((this.times[middle] ?? 0) <= time) low = middle
      else high = middle - 1
    }
    return low
  }

  value(name: string, time: number): number | null {
    const column = this.#columns.get(name)
    if (column === undefined) return null
    const i = this.row(time)
    const [first, second] = [this.run.track[i]?.[column] ?? null, this.run.track[i + 1]?.[column] ?? null]
    const [from, to] = [this.times[i] ?? 0, this.times[i + 1] ?? 0]
    if (first === null || second === null || to <= from) return first
    const share = Math.min(Math.max((time - from) / (to - from), 0), 1)
    // What is ordered, or counted, does not lie between two values.
    if (STEPWISE.has(name)) return first
    if (name === 'heading') return first + share * turned(second - first)
    return first + share * (second - first)
  }

  all(name: string): (number | null)[] {
    const column = this.#columns.get(name)
    return column === undefined ? [] : this.run.track.map((row) => row[column] ?? null)
  }
}

const STEPWISE = new Set(['wheel', 'telegraph', 'thruster', 'mode', 'phase'])

function turned(angle: number): number {
  return ((((angle + Math.PI) % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI)) - Math.PI
}
