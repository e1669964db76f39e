// How numbers are written where the server sends none ready: the same rules as leadsman/documents/format.py.
const KNOT = 1852 / 3600 // m/s, exact
const NAUTICAL_MILE = 1852 // m, exact
const MINUTE = 60_000 // ms
const DAYS = ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat']
export const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec']

/** With a true minus sign, and no negative nought. */
export function number(value: number, decimals: number): string {
  const text = value.toFixed(decimals)
  return (Number(text) === 0 ? text.replace('-', '') : text).replace('-', '−')
}

/** Metres rounded down: what is there is never written larger than it is. */
export function clearance(value: number, decimals = 2): string {
  const scale = 10 ** decimals
  return number(Math.floor(value * scale + 1e-6) / scale, decimals)
}

/** Metres rounded up: what must be is never written smaller than it is. */
export function requirement(value: number, decimals = 2): string {
  const scale = 10 ** decimals
  return number(Math.ceil(value * scale - 1e-6) / scale, decimals)
}

export function knots(speed: number): string {
  return `${number(speed / KNOT, 1)} kn`
}

export function miles(distance: number): string {
  return `${number(distance / NAUTICAL_MILE, 2)} nm`
}

export function inMiles(distance: number): number {
  return distance / NAUTICAL_MILE
}

export function fromMiles(distance: number): number {
  return distance * NAUTICAL_MILE
}

function toMinute(time: number): Date {
  return new Date(Math.floor(time / MINUTE + 0.5) * MINUTE)
}

/** 05:28, UTC, rounded to the minute. */
export function clock(time: number | string): string {
  return toMinute(typeof time === 'string' ? Date.parse(time) : time).toISOString().slice(11, 16)
}

/** 05:28:07, UTC, the second it falls in. */
export function clockSeconds(time: number): string {
  return new Date(Math.floor(time / 1000) * 1000).toISOString().slice(11, 19)
}

/** Sun 15 Aug 05:28, UTC. */
export function dayClock(time: number | string): string {
  const at = typeof time === 'string' ? Date.parse(time) : time
  return `${day(toMinute(at).getTime())} ${clock(at)}`
}

/** Sun 15 Aug. */
export function day(time: number): string {
  const at = new Date(time)
  return `${DAYS[at.getUTCDay()]} ${at.getUTCDate()} ${MONTHS[at.getUTCMonth()]}`
}

/** A start as it stands in the address and in the question to the server. */
export function stamp(time: number): string {
  const text = new Date(time).toISOString()
  return text.slice(0, time % MINUTE === 0 ? 16 : 19) + 'Z'
}
