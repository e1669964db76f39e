// Written by leadsman.web.typescript from leadsman.web.schema; not edited by hand.

/** The passage station by station, SI. */
export interface AccountShape {
  distance: number[]
  x: number[]
  y: number[]
  latitude: number[]
  longitude: number[]
  course: number[]
  reach: number[]
  elapsed: number[]
  time: string[]
  speed: number[]
  speed_over_ground: number[]
  stream_along: number[]
  stream_across: number[]
  water_level: number[]
  depth: number[]
  room_port: number[]
  room_starboard: number[]
  squat: (number | null)[]
  squat_method: string[]
  static: (number | null)[]
  gross: (number | null)[]
  net: (number | null)[]
  required: number[]
  margin: (number | null)[]
  lines: LineShape[]
}

/** What lies under her at the berth. */
export interface AlongsideShape {
  berth: string
  time: Moment
  water_level: Quantity
  static: Quantity
  required: Quantity
  margin: Quantity
  aground_allowed: boolean
  hours: number
}

/** Water of one least depth; null: unsurveyed. */
export interface AreaShape {
  name: string
  depth: number | null
  ring: [number, number][]
  holes: [number, number][][]
  bottom: string
  surveyed: string
}

/** The whole answer about one port call for one start. */
export interface Assessment {
  schema: "leadsman.assessment/1"
  caution: string
  fingerprint: string
  call: CallShape
  verdict: VerdictShape
  windows: WindowShape[]
  series: StartsShape
  account: AccountShape
  gates: GateShape[]
  legs: LegShape[]
  alongside: AlongsideShape | null
  findings: FindingShape[]
  remedies: RemedyShape[]
  figures: Record<string, FigureShape>
  plan: PlanShape
}

/** How far a figure may be off. */
export interface BandShape {
  deviation: number | null
  low: number | null
  high: number | null
}

/** A circle to swing in. */
export interface BasinShape {
  name: string
  at: [number, number]
  diameter: number
}

/** A quay face. */
export interface BerthShape {
  name: string
  begin: [number, number]
  end: [number, number]
}

/** The limit that has least left, or is broken most. */
export interface BindingShape {
  limit: string
  place: string
  distance: Quantity
  time: Moment
  value: Quantity
  required: Quantity
  margin: Quantity
}

/** The port calls in the folder served. */
export interface CallList {
  calls: string[]
}

/** What was asked. */
export interface CallShape {
  name: string
  ship: string
  waterway: string
  direction: "inward" | "outward"
  berth: string
  from: string
  to: string
  start: Moment
  search_begin: Moment
  search_end: Moment
  draught: Quantity
  direction_text: string
}

/** One fault. */
export interface Fault {
  file: string
  line: number | null
  field: string
  problem: string
}

/** Every reply that is no answer. */
export interface Faults {
  errors: Fault[]
}

/** A figure with where it comes from. */
export interface FigureShape {
  name: string
  value: number
  unit: string
  text: string
  origin: "given" | "computed" | "estimated" | "assumed"
  method: string
  source: string
  inputs: Record<string, number>
  band: BandShape | null
}

/** A fact about card or voyage. */
export interface FindingShape {
  grade: "stop" | "caution" | "note"
  subject: string
  sentence: string
  value: number | null
  limit: number | null
  unit: string
  place: string
  time: Moment | null
  source: string
}

/** Where a gate stands. */
export interface GatePlaceShape {
  name: string
  at: [number, number]
  kind: string
}

/** How she passes one gate. */
export interface GateShape {
  name: string
  kind: string
  distance: Quantity
  time: Moment
  value: Quantity
  required: Quantity
  margin: Quantity
  figures: Record<string, FigureShape>
}

/** One reach in the order sailed. */
export interface LegShape {
  number: number
  reach: string
  begins_at: string
  ends_at: string
  course: Quantity
  distance: Quantity
  order: string
  order_text: string
  speed: Quantity
  speed_over_ground: Quantity
  time_begin: Moment
  time_end: Moment
  bend_radius: Quantity | null
  alteration: Quantity | null
  rate_of_turn: Quantity | null
  wheel_over_before: Quantity | null
  least_net: Quantity
  least_margin: Quantity
  least_at: Quantity
  room_port: Quantity
  room_starboard: Quantity
}

/** One line of the under-keel account along the track; effect +1 adds, -1 takes off, 0 is a subtotal. [m] */
export interface LineShape {
  key: string
  label: string
  effect: number
  values: (number | null)[]
  deviation: (number | null)[] | null
  origin: string
  method: string
  source: string
}

/** Something to steer or look by. */
export interface MarkShape {
  name: string
  at: [number, number]
  kind: string
  description: string
}

/** A time, UTC: for machines, with the day, and as a clock shows it. */
export interface Moment {
  value: string
  text: string
  clock: string
}

/** Where the local plane has its zero; degrees. */
export interface OriginShape {
  latitude: number
  longitude: number
}

/** The ship's extent. [m] */
export interface OutlineShape {
  length_overall: number
  beam: number
}

/** A named point. */
export interface PlaceShape {
  name: string
  at: [number, number]
}

/** What the plan drawing needs, on the local plane. */
export interface PlanShape {
  origin: OriginShape
  areas: AreaShape[]
  waypoints: PlaceShape[]
  reaches: ReachShape[]
  gates: GatePlaceShape[]
  marks: MarkShape[]
  basins: BasinShape[]
  berths: BerthShape[]
  ship: OutlineShape
}

/** A number in SI units, and how it is written for people. */
export interface Quantity {
  value: number
  text: string
}

/** Widths either side of the track, inward bound. [m] */
export interface ReachShape {
  name: string
  width_port: number
  width_starboard: number
}

/** One change that would make it go, or would not. */
export interface RemedyShape {
  kind: string
  works: boolean
  sentence: string
  start: Moment | null
  change: number | null
  unit: string
}

/** The least margins for many start times. [m] */
export interface StartsShape {
  start: string[]
  underkeel: (number | null)[]
  overhead: (number | null)[]
}

/** Can she go as planned? */
export interface VerdictShape {
  go: boolean
  word: string
  sentence: string
  binding: BindingShape
}

/** A span of start times for which all limits hold. */
export interface WindowShape {
  opens: Moment
  closes: Moment
  length: Quantity
  opens_by: BindingShape | null
  closes_by: BindingShape | null
  best_start: Moment
  best: BindingShape
}
