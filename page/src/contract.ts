// Written by leadsman.web.typescript from the server's own description; not edited by hand.

/** Where the API lies; its version is in the path of every address. */
export const API = '/api/v1'

/** Every address that answers in JSON: its path's parts, what is asked, what is sent, what it answers. */
export interface Routes {
  /** The fields of every table of a call's files */
  'GET /files/form': { answer: CallFields }
  /** Waterway, areas, call and forecast as plain data, with their faults */
  'GET /calls/{call}/files': { path: { call: string }; answer: CallFiles }
  /** Write parts of a call's files; the reply is what is there then */
  'PUT /calls/{call}/files': { path: { call: string }; query: { unfinished?: boolean }; headers: { 'If-Match'?: string | null }; body: CallParts; answer: CallFiles }
  /** The revision of a call's files, and nothing else of them */
  'GET /calls/{call}/revision': { path: { call: string }; answer: CallRevision }
  /** What would be said of the call with these parts; nothing is written */
  'POST /calls/{call}/files/check': { path: { call: string }; body: CallParts; answer: SaidOfParts }
  /** Go back to a version kept; the one in force is kept too */
  'POST /calls/{call}/files/restore': { path: { call: string }; headers: { 'If-Match'?: string | null }; body: WantedVersion; answer: CallFiles }
  /** Begin a new call */
  'POST /gatherings': { answer: Gathering }
  /** What there is, what is missing */
  'GET /gatherings/{key}': { path: { key: string }; answer: Gathering }
  /** Add a file as it came; its body is the file */
  'PUT /gatherings/{key}/sources/{name}': { path: { key: string; name: string }; body: Blob; answer: Gathering }
  /** Take a file out again */
  'DELETE /gatherings/{key}/sources/{name}': { path: { key: string; name: string }; answer: Gathering }
  /** Add the ship card as typed, in the shape of ship.toml, in place of any other */
  'PUT /gatherings/{key}/card': { path: { key: string }; body: Record<string, unknown>; answer: Gathering }
  /** Answer questions */
  'PUT /gatherings/{key}/answers': { path: { key: string }; body: GivenAnswers; answer: Gathering }
  /** Make the call */
  'POST /gatherings/{key}/call': { path: { key: string }; body: CallToMake; answer: CallMade }
  /** The chart to draw upon, as GeoJSON */
  'GET /calls/{call}/underlay': { path: { call: string }; answer: unknown }
  /** Lay a chart under the drawing: the body is an S-57 cell; nothing of the call changes */
  'PUT /calls/{call}/underlay/{name}': { path: { call: string; name: string }; body: Blob; answer: null }
  /** Whether she is held at one place, with other wind, stream or means */
  'GET /calls/{call}/holding': { path: { call: string }; query: { place: string; start?: string | null; wind_speed_kn?: number | null; wind_from_deg?: number | null; stream_rate_kn?: number | null; stream_towards_deg?: number | null; tugs?: number | null; out_of_order?: string[] }; answer: WhatIf }
  /** What was told, agreed, changed, refused and done */
  'GET /calls/{call}/record': { path: { call: string }; answer: CallRecord }
  /** Add one entry; the reply is the whole record with it */
  'POST /calls/{call}/record': { path: { call: string }; body: NewEntry; answer: CallRecord }
  /** The port calls in the folder served */
  'GET /calls': { answer: CallList }
  /** Clearances, windows, findings and remedies of one call for one start */
  'GET /calls/{call}/assessment': { path: { call: string }; query: { start?: string | null }; answer: Assessment }
  /** The ship card in one folder, in the shape of ship.toml */
  'GET /calls/{call}/card': { path: { call: string }; answer: ShipCard }
  /** Write the ship card of a call, in the shape of ship.toml; the remarks of the file stay */
  'PUT /calls/{call}/card': { path: { call: string }; headers: { 'If-Match'?: string | null }; body: Record<string, unknown>; answer: ShipCard }
  /** Every field of a ship card, in groups */
  'GET /card/form': { answer: CardForm }
  /** A ship card, in the shape of ship.toml, checked and completed; nothing is kept */
  'POST /card': { body: Record<string, unknown>; answer: CheckedCard }
  /** Two ship cards, or one ship in two loadings, side by side; nothing is kept */
  'POST /card/beside': { body: TwoCards; answer: CardsBeside }
  /** The documents that figures and formulas name as sources */
  'GET /sources': { answer: SourceList }
  /** A log against the plan of a call; its body is the log, AIS, NMEA, GPX or GeoJSON */
  'POST /calls/{call}/sailed': { path: { call: string }; query: { vessel?: string | null; residual?: number | null; antenna?: number | null }; body: Blob; answer: SailedPassage }
  /** The files of a call as texts, depth areas left out */
  'GET /calls/{call}/texts': { path: { call: string }; answer: CallTexts }
  /** Write texts of a call; the reply is what is there then */
  'PUT /calls/{call}/texts': { path: { call: string }; query: { unfinished?: boolean }; headers: { 'If-Match'?: string | null }; body: GivenTexts; answer: CallTexts }
  /** What would be said of the call with these texts; nothing is written */
  'POST /calls/{call}/texts/check': { path: { call: string }; body: GivenTexts; answer: SaidOfParts }
  /** How a piece of long work stands */
  'GET /calls/{call}/long-work/{kind}': { path: { call: string; kind: "trials" | "rehearsal" | "limits" | "stream-limits" | "failures" }; answer: WorkStanding }
  /** Begin it; an earlier answer of the kind is cleared away */
  'POST /calls/{call}/long-work/{kind}': { path: { call: string; kind: "trials" | "rehearsal" | "limits" | "stream-limits" | "failures" }; body: Record<string, unknown>; answer: WorkStanding }
  /** Stop it */
  'DELETE /calls/{call}/long-work/{kind}': { path: { call: string; kind: "trials" | "rehearsal" | "limits" | "stream-limits" | "failures" }; answer: WorkStanding }
  /** What came of it */
  'GET /calls/{call}/long-work/{kind}/answer': { path: { call: string; kind: "trials" | "rehearsal" | "limits" | "stream-limits" | "failures" }; answer: unknown }
}

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
  part: string[]
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

/** One anchor at the roomiest place, and stopping her with both. */
export interface AnchoringShape {
  place: string
  bottom: string
  holding: Record<string, number>
  greatest_wind: Record<string, string>
  cable: Quantity
  cable_on_board: Quantity | null
  shackles_on_deck: number
  shackles_in_water: number
  by_rules: Record<string, string>
  swing_radius: Quantity
  room: Quantity
  stopping_speed: Quantity
  bringing_up_speed: Quantity
  walk_back_speed: Quantity
}

/** Water of one least depth; null: unsurveyed. */
export interface AreaShape {
  name: string
  depth: number | null
  ring: [number, number][]
  holes: [number, number][][]
  bottom: string
  surveyed: string
  net: Quantity | null
}

/** What is left for a start a little early or late. */
export interface AroundShape {
  start: Moment
  underkeel: Quantity
  overhead: Quantity | null
  rule: string
  binding: BindingShape
  holds: boolean
}

/** One force of the drawing: metres from midships, to starboard and forward. */
export interface ArrowShape {
  kind: "wind" | "stream" | "screw" | "rudder" | "thruster" | "tug" | "fender" | "hull" | "allowance" | "left_over"
  tail: [number, number]
  head: [number, number]
  outer: [number, number]
  label: [number, number]
  words: string
}

/** Where something asked for stands, in degrees. */
export interface AskedPlace {
  latitude: number
  longitude: number
}

/** The whole answer about one port call for one start. */
export interface Assessment {
  schema: "leadsman.assessment/1"
  caution: string
  manner: MannerShape
  fingerprint: string
  call: CallShape
  verdict: VerdictShape
  windows: WindowShape[]
  nearest_window: NearestWindowShape | null
  series: StartsShape
  around: AroundShape[]
  turn_backs: TurnBackShape[]
  account: AccountShape
  gates: GateShape[]
  legs: LegShape[]
  alongside: AlongsideShape | null
  rules: RuleShape[]
  touching: TouchingShape | null
  holding: HoldingShape | null
  widths: ReachWidthShape[]
  bends: BendTurnShape[]
  basins: SwingRoomShape[]
  way_off: WayOffShape[]
  side_tables: SideTableShape[]
  findings: FindingShape[]
  remedies: RemedyShape[]
  figures: Record<string, FigureShape>
  tightest: TightPlaceShape[]
  plan: PlanShape
  ship: ShipCardShape
  loading: LoadingShape
  forecast: ForecastShape
  margins: MarginsShape
  tugs: TugShape[]
}

/** A force balance as it is drawn. [m] */
export interface BalanceDrawingShape {
  unit: number
  box: [number, number, number, number]
  bar: BarShape
  arrows: ArrowShape[]
}

/** Loads, and who holds them. */
export interface BalanceShape {
  held: boolean
  in_hand: boolean
  engines: string
  wind: LoadShape
  stream: LoadShape
  left_over: LoadShape
  left_over_words: string
  drift_speed: Quantity
  by_method: Record<string, string>
  orders: leadsman__web__schema__holding__OrderShape[]
}

/** How far a figure may be off. */
export interface BandShape {
  deviation: number | null
  low: number | null
  high: number | null
  text: string
}

/** The scale of forces: a length that stands for a pull. [m] */
export interface BarShape {
  length: number
  text: string
}

/** A diameter by one rule. */
export interface BasinRuleShape {
  rule: string
  asks: Quantity
  source: string
  mark: string
}

/** A circle to swing in. */
export interface BasinShape {
  name: string
  at: [number, number]
  diameter: number
}

/** One bend against her. */
export interface BendTurnShape {
  waypoint: string
  distance: Quantity
  radius: Quantity
  lengths: Quantity
  deflection: Quantity
  speed: Quantity
  rate_of_turn: Quantity
  rudder: Given
  held: boolean | null
  held_text: string
  wheel_over: Given
  meet: Given
  available: Quantity
  needed: Given
  margin: Given
  swept: Quantity
}

/** A quay face. */
export interface BerthShape {
  name: string
  begin: [number, number]
  end: [number, number]
}

/** One figure of both. */
export interface BesideFigureShape {
  name: string
  label: string
  one: BesideSideShape
  other: BesideSideShape
  mark: string
}

/** Lines under one heading. */
export interface BesideGroupShape {
  title: string
  rows: BesideRowShape[]
}

/** One line of both cards. */
export interface BesideRowShape {
  label: string
  one: string
  other: string
  mark: string
}

/** A figure as written for people. */
export interface BesideSideShape {
  text: string
  band: string
  origin: string
}

/** The limit that has least left, or is broken most. */
export interface BindingShape {
  limit: string
  limit_text: string
  part: string
  place: string
  distance: Quantity
  time: Moment
  value: Quantity
  required: Quantity
  margin: Quantity
  rule: string
  words: string
}

/** The fields of every table of a call's files, and the tables within each. */
export interface CallFields {
  tables: Record<string, CardFieldShape[]>
  inner: Record<string, InnerTable[]>
}

/** The files of a call as plain data: `call`, `forecast`, `waterway` as in TOML, `areas` as GeoJSON. */
export interface CallFiles {
  revision: string
  parts: Record<string, unknown>
  faults: PlacedFault[]
  earlier: EarlierVersion[]
  underlay: boolean
}

/** The port calls in the folder served. */
export interface CallList {
  calls: string[]
  about: Record<string, string>
}

/** The call made, by the name of its folder. */
export interface CallMade {
  call: string
}

/** Parts of a call's files as they are to be; a part left out stays as it is. */
export interface CallParts {
  parts: Record<string, unknown>
  words?: string
}

/** The record of one port call. */
export interface CallRecord {
  schema: "leadsman.record/1"
  caution: string
  number: number
  mark: string
  plan: string
  parts: PartShape[]
  entries: EntryShape[]
  open: number
}

/** How the files of a call stand. */
export interface CallRevision {
  revision: string
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

/** The files of a call as texts, by their names in its folder; depth areas are drawn and not among them. */
export interface CallTexts {
  revision: string
  texts: Record<string, string>
}

/** The folder's name of the call to be made. */
export interface CallToMake {
  name: string
}

/** One figure that the handler's own figures change, as written for people. */
export interface CardChangeShape {
  name: string
  label: string
  before: string
  before_origin: string
  after: string
  by: string
  own: boolean
}

/** One field of the card's form. */
export interface CardFieldShape {
  path: string[]
  name: string
  label: string
  unit: string
  kind: "number" | "count" | "text" | "choice" | "yes" | "pair" | "lines"
  choices: string[]
  needed: boolean
  usual: string | boolean | null
  expected: string
}

/** One figure that computation needs, SI and as written for people. */
export interface CardFigureShape {
  name: string
  value: number
  unit: string
  label: string
  text: string
  band: string
  origin: "given" | "computed" | "estimated" | "assumed"
  method: string
  source: string
  meaning: string
}

/** The whole form of a ship card. */
export interface CardForm {
  groups: CardGroupShape[]
  own: OwnFieldShape[]
}

/** Fields under one heading; with a table: those of each of its rows. */
export interface CardGroupShape {
  title: string
  table: string[]
  name: string
  rows: string[]
  fields: CardFieldShape[]
}

/** Two cards side by side. */
export interface CardsBeside {
  schema: "leadsman.beside/1"
  caution: string
  called: string[]
  about: string[]
  remarks: RemarkShape[]
  groups: BesideGroupShape[]
  figures: BesideFigureShape[]
  marks: string
}

/** One change that would hold her, or would not. */
export interface ChangeShape {
  kind: string
  works: boolean
  sentence: string
}

/** What is said of a ship card; where it has faults, nothing else. */
export interface CheckedCard {
  schema: "leadsman.checked-card/1"
  caution: string
  ship: string
  findings: FindingShape[]
  figures: CardFigureShape[]
  changes: CardChangeShape[]
  faults: Fault[]
}

/** A time, also as a clock shows it. */
export interface Clock {
  value: string
  text: string
  clock: string
}

/** A document of the bibliography, and how far it was seen by whoever wrote the formula down. */
export interface Document {
  title: string
  authors: string
  year: number | null
  edition: string
  mark: string
  note: string
}

/** One version kept. */
export interface EarlierVersion {
  number: number
  revision: string
  time: string
  words: string
}

/** One line of the record. */
export interface EntryShape {
  number: number
  time: string
  clock: string
  by: string
  role: "master" | "pilot" | "officer" | "other"
  item: string
  text: string
  state: "told" | "agreed" | "changed" | "refused" | "done" | "defect" | "noted" | "withdrawn"
  words: string
  plan: string
  mark: string
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

/** What weather and gauge are expected to do. */
export interface ForecastShape {
  issued: Stamp
  source: string
  residual: Given
  residual_low: Given
  residual_high: Given
  wind: string
  waves: string
  visibility: Given
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

/** What there is of a new call, and what is not. */
export interface Gathering {
  gathering: string
  sources: SourceFile[]
  missing: string[]
  questions: Question[]
  answers: Record<string, string>
  faults: Fault[]
  findings: SourceFinding[]
  ready: boolean
}

/** A number in SI units that may be missing, and how that is written for people. */
export interface Given {
  value: number | null
  text: string
}

/** Answers by the keys of the questions; an empty one takes an answer back. */
export interface GivenAnswers {
  answers: Record<string, string>
}

/** Texts as they are to be; a file left out stays as it is. */
export interface GivenTexts {
  texts: Record<string, string>
  words?: string
}

/** One place of the passage at her time there; angles off the bow to starboard positive. [rad] */
export interface HeldAtShape {
  key: string
  place: string
  situation: "under_way" | "swinging" | "off_the_berth"
  situation_text: string
  time: Clock
  heading: Quantity
  speed: Quantity
  engine_order: string
  kicks: boolean
  wind: Quantity
  wind_from: Quantity
  wind_off_bow: number
  gust: Quantity
  stream: Quantity
  stream_towards: Quantity
  stream_off_bow: number
  water_depth: Quantity
  quay_side: number
  word: string
  reserve: Quantity
  alone: Quantity | null
  wind_limit: Quantity
  balance: BalanceShape
  drawing: BalanceDrawingShape
  tugs: TugAtWorkShape[]
  needed: TugsNeededShape | null
  changes: ChangeShape[]
  method_limits: string[]
}

/** All about holding her on one passage. */
export interface HoldingShape {
  length_overall: number
  beam: number
  places: HeldAtShape[]
  roses: Record<string, RoseShape>
  landing: LandingShape | null
  lifting_off: LiftingOffShape | null
  anchoring: AnchoringShape | null
}

/** A table within a table. */
export interface InnerTable {
  key: string
  table: string
  label: string
  many: boolean
  needed: boolean
  instead: boolean
}

/** One item of exchange or tests, with what was last said of it. */
export interface ItemShape {
  key: string
  text: string
  said: EntryShape | null
  earlier_plan: boolean
}

/** How hard she lands. */
export interface LandingShape {
  speed: Quantity
  speed_from: string
  angle: Quantity
  energy: Quantity
  by_method: Record<string, string>
  allowed_energy: Quantity | null
  greatest_speed: Quantity | null
  drift_speed: Quantity
  design_speeds: Record<string, string>
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
  tightest: PlaceAccountShape
}

/** Getting off the quay, and the lines that hold her on it. */
export interface LiftingOffShape {
  force: Quantity | null
  seconds: number | null
  set_off_force: Quantity
  lines: number | null
  line_load: Quantity | null
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

/** One line of the account at one place, as written for people. */
export interface LineTextShape {
  key: string
  label: string
  effect: number
  text: string
}

/** A force and its moment in ship axes: forward, to starboard, turning to starboard. [N, N, N m] */
export interface LoadShape {
  surge: number
  sway: number
  yaw: number
  text: string
  yaw_text: string
}

/** How she floats today. */
export interface LoadingShape {
  condition: string
  draught_forward: Given
  draught_aft: Given
  draught: Given
  trim: Given
  displacement: Given
  air_draught: Given
  water_density: Given
}

/** In which units, and by whose clock, the texts of an answer are written. */
export interface MannerShape {
  lengths: "metres" | "feet"
  length: string
  forces: "tonnes" | "kilonewtons"
  force: string
  zone: number
  clock: string
  words: string
}

/** What this port or company requires. */
export interface MarginsShape {
  underkeel: UnderkeelMarginShape
  overhead: Quantity
  alongside: Given
  width: Given
  source: string
}

/** Something to steer or look by. */
export interface MarkShape {
  name: string
  at: [number, number]
  kind: string
  description: string
}

/** A time, also as a date. */
export interface Moment {
  value: string
  text: string
  clock: string
  date: string
}

/** The window the start lies in, else the next one, else the last. */
export interface NearestWindowShape {
  window: WindowShape
  holds: boolean
  later: boolean
}

/** What somebody says of an item. */
export interface NewEntry {
  by: string
  role: "master" | "pilot" | "officer" | "other"
  item: string
  state: "told" | "agreed" | "changed" | "refused" | "done" | "defect" | "noted" | "withdrawn"
  words?: string
  plan: string
  seen: number
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

/** Where a figure can be overruled by the handler's own. */
export interface OwnFieldShape {
  key: string
  name: string
  unit: string
  expected: string
}

/** One list of items. */
export interface PartShape {
  key: string
  title: string
  source: string
  states: ("told" | "agreed" | "changed" | "refused" | "done" | "defect" | "noted" | "withdrawn")[]
  items: ItemShape[]
}

/** A place passed, when it was and when it was to be. SI. */
export interface PassingShape {
  place: string
  distance: number
  planned: string
  sailed: string
  late: number
  off_track: number
  planned_speed: number
  sailed_speed: number
  texts: string[]
}

/** The whole under-keel account where a leg has least margin. */
export interface PlaceAccountShape {
  station: number
  time: Clock
  lines: LineTextShape[]
  depth: Quantity
  water_level: Quantity
  squat: Quantity
  draught: Quantity
  squat_method: string
  part: string
  static: Quantity
  gross: Quantity
  net: Quantity
  required: Quantity
  margin: Quantity
}

/** A named point. */
export interface PlaceShape {
  name: string
  at: [number, number]
}

/** One fault of the files as they are or would be. */
export interface PlacedFault {
  file: string
  line: number | null
  field: string
  problem: string
  place: (string | number)[]
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

/** A pull needed at one place. */
export interface PullAtShape {
  place_text: string
  text: string
}

/** A number in SI units, and how it is written for people. */
export interface Quantity {
  value: number
  text: string
}

/** One thing that no file says. */
export interface Question {
  key: string
  sentence: string
  places: string[]
  choices: string[]
  other: boolean
  needs_file: boolean
  position: AskedPlace | null
  optional: boolean
  open: boolean
}

/** The chance of touching in one reach. */
export interface ReachChanceShape {
  value: number
  text: string
  reach: string
}

/** Widths either side of the track, inward bound. [m] */
export interface ReachShape {
  name: string
  width_port: number
  width_starboard: number
}

/** The width of one reach read backwards. */
export interface ReachWidthShape {
  reach: string
  available: Quantity
  needed: Given
  margin: Given
  two_way: boolean
  ways_text: string
  rows: WidthRowShape[]
  rows_text: string
  assumed: string[]
  swept: Quantity
  heading_offset: Quantity
  rudder: Given
  held: boolean | null
  cross_stream: Quantity
  cross_wind: Given
}

/** What one difference means for handling. */
export interface RemarkShape {
  name: string
  sentence: string
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

/** Greatest wind by direction with one set of tugs. [m/s] */
export interface RoseSetShape {
  name: string
  limits: number[]
  least: Quantity
  least_from: string
}

/** Greatest wind by where it comes from, off the bow. [rad] */
export interface RoseShape {
  off_bow: number[]
  ceiling: number
  sets: RoseSetShape[]
}

/** One rule of the port or company against this start. */
export interface RuleShape {
  name: string
  limit: string
  limit_text: string
  place: string
  kept: boolean | null
  kept_text: string
  words: string
  margin: Quantity | null
  time: Moment | null
  source: string
}

/** What would be said of a call with these parts; nothing is written. */
export interface SaidOfParts {
  faults: PlacedFault[]
  word: string
  sentence: string
  grade: "" | "go" | "caution" | "stop"
}

/** What was broken, or how far the log can be trusted. */
export interface SailedFinding {
  grade: string
  subject: string
  sentence: string
  place: string
}

/** Something overhead, as passed. */
export interface SailedGateShape {
  name: string
  time: string
  clearance: number
  planned: number
  required: number
  sentence: string
}

/** One reach. */
export interface SailedLegShape {
  reach: string
  order: string
  planned_speed: number
  sailed_speed: number
  slowest: number
  fastest: number
  off_port: number
  off_starboard: number
  rate_of_turn: number
  least_net: number | null
  planned_net: number
  room_port: number
  room_starboard: number
  texts: string[]
}

/** The whole of it. */
export interface SailedPassage {
  schema: "leadsman.after/1"
  caution: string
  ship: string
  vessel: string
  words: string
  level_words: string
  positions: number
  residual: number
  residual_measured: boolean
  required: number
  passings: PassingShape[]
  legs: SailedLegShape[]
  gates: SailedGateShape[]
  steady: SteadyShape[]
  findings: SailedFinding[]
  stations: SailedStations
  notes: string[]
}

/** One entry a station of the track that she passed. */
export interface SailedStations {
  time: string[]
  distance: number[]
  x: number[]
  y: number[]
  latitude: number[]
  longitude: number[]
  off_track: number[]
  heading: number[]
  speed_over_ground: number[]
  speed: number[]
  water_level: number[]
  squat: (number | null)[]
  net: (number | null)[]
  room_port: number[]
  room_starboard: number[]
  rate_of_turn: number[]
}

/** A ship card in the shape of ship.toml. */
export interface ShipCard {
  card: Record<string, unknown>
  revision: string
}

/** The ship as handed over. */
export interface ShipCardShape {
  name: string
  call_sign: string
  kind: string
  length_overall: Given
  beam: Given
  keel_to_highest_point: Given
  engine: string
  thrusters: string
  rudders: string
  orders: leadsman__web__schema__given__OrderShape[]
  defects: string[]
}

/** A table of words about widths, bends, basins or speed, as paper and page show it. */
export interface SideTableShape {
  title: string
  heads: string[]
  rows: string[][]
}

/** One file as gathered. */
export interface SourceFile {
  name: string
  size: number
  kind: string
  use: "chart" | "update" | "tide" | "ship" | "route" | ""
  problem: string
}

/** What a person should look at in the draft. */
export interface SourceFinding {
  grade: "stop" | "caution" | "note"
  sentence: string
}

/** The bibliography by key. */
export interface SourceList {
  sources: Record<string, Document>
}

/** A time: for machines, UTC; and with the day, by the clock asked for. */
export interface Stamp {
  value: string
  text: string
}

/** The least margins for many start times [m], and the rule of the port each breaks most. */
export interface StartsShape {
  start: string[]
  underkeel: (number | null)[]
  overhead: (number | null)[]
  rule: string[]
}

/** What an order made at even speed, if it was the one planned. */
export interface SteadyShape {
  reach: string
  order: string
  distance: number
  speed: number
  deviation: number
  card: number
  depth_to_draught: number
  sentence: string
}

/** One basin against her. */
export interface SwingRoomShape {
  basin: string
  diameter: Quantity
  lengths: Quantity
  stream: Quantity
  drift: Quantity
  rules: BasinRuleShape[]
  rules_text: string
}

/** One of the places with least left; its letter stands on every drawing and sheet. */
export interface TightPlaceShape {
  letter: string
  limit: string
  limit_text: string
  place: string
  leg: number
  station: number
  distance: Quantity
  time: Clock
  value: Quantity
  required: Quantity
  margin: Quantity
}

/** The chance of touching the bed on the passage, and what is allowed. */
export interface TouchingShape {
  probability: Quantity
  limit: Quantity | null
  allowed: boolean
  reaches: ReachChanceShape[]
  draws: number
  seed: number
}

/** One tug where she serves best. */
export interface TugAtWorkShape {
  name: string
  kind: string
  bollard_pull: Quantity
  place: string
  place_text: string
  forward: number
  usable: Quantity
}

/** A tug as ordered. */
export interface TugShape {
  name: string
  kind: string
  bollard_pull: Quantity
}

/** What must be ordered, by statics and by the trade's rules. */
export interface TugsNeededShape {
  by_statics: PullAtShape[] | null
  total: Quantity | null
  by_rules: Record<string, string>
  two_at_least: boolean
  number: number | null
  each: Quantity
}

/** A place where she can still wait or turn, and what has least left from there to the next. */
export interface TurnBackShape {
  place: string
  distance: Quantity
  time: Moment
  limit_text: string
  ahead: string
  ahead_time: Moment
  margin: Quantity
}

/** What is asked to be set side by side. */
export interface TwoCards {
  one: Record<string, unknown>
  other?: Record<string, unknown> | null
}

/** Metres, or a share of draught. */
export interface UnderkeelMarginShape {
  value: number
  share: number
  text: string
}

/** Can she go as planned? */
export interface VerdictShape {
  go: boolean
  word: string
  sentence: string
  binding: BindingShape
}

/** The version to go back to. */
export interface WantedVersion {
  revision: string
}

/** How one reach is left slower. */
export interface WayOffShape {
  reach: string
  speed: Quantity
  wanted: Quantity
  by: string
  distance: Given
  begin: Given
  room: Quantity
  crash_stop: Given
  source: string
  last_stop: Given
}

/** One place with other wind, stream, tugs, or something out of order. */
export interface WhatIf {
  schema: "leadsman.what-if/1"
  place: HeldAtShape
  rose: RoseShape
  means: string[]
}

/** One addend of a concept width, in beams; null where the guideline forbids the passage. */
export interface WidthRowShape {
  name: string
  beams: number | null
  source: string
  mark: string
  beyond: boolean
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

/** How a piece of long work stands. */
export interface WorkStanding {
  kind: string
  state: "none" | "running" | "done" | "failed" | "stopped"
  share: number
  words: string
  options: Record<string, unknown> | null
  begun: string
  earlier_plan: boolean
}

/** One engine order that makes way ahead, with its speed in today's condition. */
export interface leadsman__web__schema__given__OrderShape {
  order: string
  speed: Given
}

/** What one of her means makes, where it meets her [m forward, m to starboard], and how much of it is used. */
export interface leadsman__web__schema__holding__OrderShape {
  name: string
  kind: "screw" | "thruster" | "tug" | "fender" | "hull" | "allowance"
  force: LoadShape
  forward: number
  to_starboard: number
  used: number
  used_text: string
  words: string
}
