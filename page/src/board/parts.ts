// A call's files as the page holds them, and every change that can be drawn. Nothing is changed in place: what is the same
// stays the same object, so that going back is cheap and only what changed is drawn again.
import type { Position } from './plane'

export type Row = Record<string, unknown>
export type Ring = [longitude: number, latitude: number][]

export interface Area {
  type: 'Feature'
  properties: Row
  geometry: { type: string; coordinates: unknown }
}

export type Parts = {
  call: Row
  forecast: Row
  waterway: Row
  areas: Row & { features: Area[] }
}

/** Things that stand at one place, in lists of the waterway. */
export const PLACED = ['gate', 'basin', 'mark', 'tide_station', 'stream_station'] as const
export type Table = 'waypoint' | 'reach' | 'berth' | 'area' | (typeof PLACED)[number]

/** One thing of the drawing, as it stands in the address: `gate:0`; or a whole part: `call`. */
export type Thing = string

export function thingOf(thing: Thing): [table: string, index: number] {
  const [table, index] = thing.split(':')
  return [table ?? '', Number(index ?? 0)]
}

export function rows(parts: Parts, table: string): Row[] {
  if (table === 'area') return parts.areas.features.map((area) => area.properties ?? {})
  const found = (table === 'plan' || table === 'tug' ? parts.call : parts.waterway)[table]
  return Array.isArray(found) ? (found as Row[]) : []
}

export function nameOf(parts: Parts, thing: Thing): string {
  const [table, index] = thingOf(thing)
  const name = rows(parts, table)[index]?.name
  return typeof name === 'string' && name !== '' ? name : `${table.replace('_', ' ')} ${index + 1}`
}

export function positionOf(row: Row | undefined): Position | null {
  const { latitude, longitude } = row ?? {}
  return typeof latitude === 'number' && typeof longitude === 'number' ? [latitude, longitude] : null
}

/** Degrees to the seventh place: a centimetre. */
export function placed([latitude, longitude]: Position): { latitude: number; longitude: number } {
  return { latitude: Number(latitude.toFixed(7)), longitude: Number(longitude.toFixed(7)) }
}

function withList(parts: Parts, table: string, list: Row[]): Parts {
  const part = table === 'plan' || table === 'tug' ? 'call' : 'waterway'
  const whole = { ...parts[part], [table]: list }
  if (list.length === 0 && !['waypoint', 'reach', 'plan'].includes(table)) delete (whole as Row)[table]
  return { ...parts, [part]: whole }
}

/** A row with other values; `undefined` takes a key out. */
export function changed(parts: Parts, table: string, index: number, values: Row): Parts {
  if (table === 'area') return withArea(parts, index, (area) => ({ ...area, properties: filled(area.properties, values) }))
  const before = rows(parts, table)
  const next = withList(parts, table, before.map((row, i) => (i === index ? filled(row, values) : row)))
  const [old, name] = [before[index]?.name, values.name]
  if (name === undefined || name === old) return next
  return renamed(next, table, old, name)
}

/** A row with other values; what is undefined goes. */
export function filled(row: Row, values: Row): Row {
  const next: Row = { ...row, ...values }
  for (const key of Object.keys(next)) if (next[key] === undefined) delete next[key]
  return next
}

/** What speaks of a thing by its name speaks of it by its new name. */
function renamed(parts: Parts, table: string, old: unknown, name: unknown): Parts {
  const other = (value: unknown) => (value === old ? name : value)
  const speaking = (row: Row, keys: string[]): Row => {
    const said = keys.filter((key) => row[key] === old || (Array.isArray(row[key]) && row[key].includes(old)))
    return said.length === 0 ? row : { ...row, ...Object.fromEntries(said.map((key) => [key, Array.isArray(row[key]) ? row[key].map(other) : name])) }
  }
  const lists = (part: Row, keysOf: Record<string, string[]>): Row => {
    const changes = Object.entries(keysOf).flatMap(([list, keys]) => (Array.isArray(part[list]) ? [[list, (part[list] as Row[]).map((row) => speaking(row, keys))]] : []))
    return { ...part, ...Object.fromEntries(changes) }
  }
  if (table === 'reach') return { ...parts, call: lists(parts.call, { plan: ['reach'], rule: ['reaches'] }), waterway: lists(parts.waterway, { rule: ['reaches'] }) }
  if (table === 'tide_station') {
    const stations = rows(parts, 'tide_station').map((row) => ({ ...row, ...within(row, ['secondary', 'offsets'], (inner) => speaking(inner, ['reference'])) }))
    const rules = rows(parts, 'rule').map((row) => ({ ...row, ...within(row, ['opening'], (inner) => speaking(inner, ['reference'])) }))
    const waterway = { ...lists(parts.waterway, { stream_station: ['reference'] }), tide_station: stations }
    return { ...parts, waterway: rules.length > 0 ? { ...waterway, rule: rules } : waterway }
  }
  if (!PASSED.includes(table)) return parts
  return { ...parts, call: lists(speaking(parts.call, table === 'berth' ? ['berth'] : []), { rule: ['at'], movement: ['at'] }), waterway: lists(parts.waterway, { rule: ['at'] }) }
}

/** Tables of a row, each changed where it is there. */
function within(row: Row, keys: string[], change: (inner: Row) => Row): Row {
  return Object.fromEntries(keys.filter((key) => key in row).map((key) => [key, change(row[key] as Row)]))
}

/** Where rules and movements may be. */
const PASSED = ['waypoint', 'gate', 'basin', 'berth']

/** What can be chosen for a key that names another thing. */
export function choicesFor(parts: Parts): Record<string, string[]> {
  const names = (of: string) => rows(parts, of).map((one) => String(one.name ?? ''))
  return {
    reference: [...new Set(names('tide_station'))],
    at: [...new Set(PASSED.flatMap(names))],
    clearance_datum: ['CD', ...Object.keys((parts.waterway.heights_above_chart_datum_m as Row | undefined) ?? {})],
  }
}

export function changedPart(parts: Parts, part: 'call' | 'forecast' | 'waterway', table: string, values: Row): Parts {
  const whole = parts[part]
  if (table === '') return { ...parts, [part]: filled(whole, values) }
  return { ...parts, [part]: { ...whole, [table]: filled((whole[table] as Row | undefined) ?? {}, values) } }
}

/** A name no other row of the table has. */
function free(parts: Parts, table: string, wanted: string): string {
  const taken = new Set(rows(parts, table).map((row) => row.name))
  if (!taken.has(wanted)) return wanted
  let number = 2
  while (taken.has(`${wanted} ${number}`)) number++
  return `${wanted} ${number}`
}

const CALLED: Record<string, string> = { gate: 'Gate', basin: 'Basin', mark: 'Mark', tide_station: 'Tide station', stream_station: 'Stream station', tug: 'Tug' }

/** A new thing at a place. What makes it one (height, kind, depth) is left open, and asked for. */
export function added(parts: Parts, table: string, position: Position): Parts {
  const row: Row = { name: free(parts, table, CALLED[table] ?? table), ...placed(position) }
  return withList(parts, table, [...rows(parts, table), row])
}

export function addedRow(parts: Parts, table: string, row: Row): Parts {
  return withList(parts, table, [...rows(parts, table), row])
}

export function addedBerth(parts: Parts, begin: Position, end: Position): Parts {
  const berth = { name: free(parts, 'berth', 'Berth'), begin: placed(begin), end: placed(end) }
  return withList(parts, 'berth', [...rows(parts, 'berth'), berth])
}

export function removed(parts: Parts, table: string, index: number): Parts {
  if (table === 'waypoint') return withoutWaypoint(parts, index)
  if (table === 'area') return { ...parts, areas: { ...parts.areas, features: parts.areas.features.filter((_, i) => i !== index) } }
  return withList(parts, table, rows(parts, table).filter((_, i) => i !== index))
}

/** A waypoint put into a reach: both halves keep its width and its orders. Beyond the last one: a reach of its own. */
export function withWaypoint(parts: Parts, after: number, position: Position): Parts {
  const points = rows(parts, 'waypoint')
  const reaches = rows(parts, 'reach')
  const point: Row = { name: free(parts, 'waypoint', 'Waypoint'), ...placed(position) }
  const split = reaches[Math.min(after, reaches.length - 1)] ?? {}
  const reach: Row = { ...split, name: free(parts, 'reach', typeof split.name === 'string' ? split.name : 'Reach') }
  const next = withList(parts, 'waypoint', [...points.slice(0, after + 1), point, ...points.slice(after + 1)])
  if (points.length === 0) return next
  const longer = withList(next, 'reach', [...reaches.slice(0, after + 1), reach, ...reaches.slice(after + 1)])
  const plans = rows(parts, 'plan')
  const at = plans.findIndex((row) => row.reach === split.name)
  const plan: Row = { ...(plans[at] ?? {}), reach: reach.name }
  return withList(longer, 'plan', at < 0 ? [...plans, plan] : [...plans.slice(0, at + 1), plan, ...plans.slice(at + 1)])
}

/** Two reaches become one: the narrower, the slower, with the orders of the first. */
function withoutWaypoint(parts: Parts, index: number): Parts {
  const points = rows(parts, 'waypoint').filter((_, i) => i !== index)
  const reaches = rows(parts, 'reach')
  const [kept, gone] = index === 0 ? [reaches[1], reaches[0]] : [reaches[index - 1], reaches[index]]
  const outer = index === 0 || index === points.length
  const dropped = index === points.length ? reaches[index - 1] : gone
  let next = withList(parts, 'waypoint', points)
  const left = reaches.filter((row) => row !== dropped)
  next = withList(next, 'reach', outer ? left : left.map((row) => (row === kept ? narrower(row, dropped ?? {}) : row)))
  return withList(next, 'plan', rows(next, 'plan').filter((row) => row.reach !== dropped?.name))
}

function narrower(kept: Row, gone: Row): Row {
  const least = (key: string) => {
    const known = [kept[key], gone[key]].filter((value): value is number => typeof value === 'number')
    return known.length > 0 ? Math.min(...known) : undefined
  }
  const keys = ['width_port_m', 'width_starboard_m', 'maximum_speed_kn', 'bottom_width_m']
  return filled(kept, Object.fromEntries(keys.map((key) => [key, least(key)])))
}

/** The rings of an area: the boundary, then its holes, the first corner not said twice. Several polygons are not drawn. */
export function ringsOf(area: Area | undefined): Ring[] {
  if (area?.geometry?.type !== 'Polygon' || !Array.isArray(area.geometry.coordinates)) return []
  return (area.geometry.coordinates as Ring[]).map((ring) => {
    const [first, last] = [ring[0], ring.at(-1)]
    return ring.length > 1 && first?.[0] === last?.[0] && first?.[1] === last?.[1] ? ring.slice(0, -1) : ring
  })
}

function withArea(parts: Parts, index: number, change: (area: Area) => Area): Parts {
  return { ...parts, areas: { ...parts.areas, features: parts.areas.features.map((area, i) => (i === index ? change(area) : area)) } }
}

export function withRings(parts: Parts, index: number, rings: Ring[]): Parts {
  return withArea(parts, index, (area) => ({ ...area, geometry: polygon(rings) }))
}

function polygon(rings: Ring[]): Area['geometry'] {
  return { type: 'Polygon', coordinates: rings.map((ring) => [...ring, ring[0]]) }
}

export function lonLat(position: Position): [number, number] {
  const { latitude, longitude } = placed(position)
  return [longitude, latitude]
}

/** A new area; its depth is asked for, since no depth is ever assumed. */
export function withNewArea(parts: Parts, ring: Ring, properties: Row = {}): Parts {
  const area: Area = { type: 'Feature', properties: { name: free(parts, 'area', 'Area'), ...properties }, geometry: polygon([ring]) }
  return { ...parts, areas: { ...parts.areas, features: [...parts.areas.features, area] } }
}

/** One area as two, along a line from one corner of its boundary to another; both keep what was said of it. */
export function split(parts: Parts, index: number, from: number, to: number): Parts {
  const area = parts.areas.features[index]
  const [ring, ...holes] = ringsOf(area)
  if (!area || !ring) return parts
  const [low, high] = from < to ? [from, to] : [to, from]
  const one = ring.slice(low, high + 1)
  const other = [...ring.slice(high), ...ring.slice(0, low + 1)]
  const name = free(parts, 'area', typeof area.properties.name === 'string' ? area.properties.name : 'Area')
  const halves = [one, other].map((half, i): Area => ({
    ...area,
    properties: i === 0 ? area.properties : { ...area.properties, name },
    geometry: polygon([half, ...holes.filter((hole) => hole[0] && inside(half, hole[0]))]),
  }))
  return { ...parts, areas: { ...parts.areas, features: parts.areas.features.flatMap((one, i) => (i === index ? halves : [one])) } }
}

export function inside(ring: Ring, [x, y]: [number, number]): boolean {
  let within = false
  ring.forEach(([ax, ay], i) => {
    const [bx, by] = ring.at(i - 1) as [number, number]
    if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) within = !within
  })
  return within
}
