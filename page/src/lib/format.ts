// How numbers are written where the server sends none ready: the same rules as leadsman/format.py, in the reader's units.
import { reader } from './reader.svelte'

const KNOT = 1852 / 3600 // m/s, exact
const NAUTICAL_MILE = 1852 // m, exact
const MINUTE = 60_000 // ms
const DAY = 86_400_000 // ms
const DAYS = ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat']
export const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec']

/** With a true minus sign, and no negative nought. */
export function number(value: number, decimals: number): string {
  const text = value.toFixed(decimals)
  return (Number(text) === 0 ? text.replace('-', '') : text).replace('-', '−')
}

/** Of feet, where metres have 0, 1, 2 and 3: a tenth of a foot is 3 cm. */
const FOOT_DECIMALS = [0, 1, 1, 2]

/** A length in the unit read in, without its sign. [m] */
export function length(value: number, decimals = 2): string {
  return number(value / reader.unit, places(decimals))
}

/** Rounded down: what is there is never written larger than it is. */
export function clearance(value: number, decimals = 2): string {
  const scale = 10 ** places(decimals)
  return number(Math.floor((value / reader.unit) * scale + 1e-6) / scale, places(decimals))
}

/** Rounded up: what must be is never written smaller than it is. */
export function requirement(value: number, decimals = 2): string {
  const scale = 10 ** places(decimals)
  return number(Math.ceil((value / reader.unit) * scale - 1e-6) / scale, places(decimals))
}

/** A length as written, with the sign of its unit on the same line. */
export function withUnit(written: string): string {
  return `${written}\u00a0${reader.sign}`
}

function places(decimals: number): number {
  return reader.lengths === 'feet' ? (FOOT_DECIMALS[decimals] ?? decimals) : decimals
}

export function knots(speed: number): string {
  return `${number(speed / KNOT, 1)}\u00a0kn`
}

export function miles(distance: number): string {
  return `${number(distance / NAUTICAL_MILE, 2)}\u00a0nm`
}

/** 4 min 05 s; under a minute in seconds. Begun seconds count. */
export function stopwatch(seconds: number): string {
  const whole = Math.ceil(seconds - 1e-6)
  return whole >= 60 ? `${Math.floor(whole / 60)}\u00a0min ${String(whole % 60).padStart(2, '0')}\u00a0s` : `${whole}\u00a0s`
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

/** 05:28, by the clock read by, rounded to the minute. */
export function clock(time: number | string): string {
  const at = typeof time === 'string' ? Date.parse(time) : time
  return toMinute(at + reader.shift).toISOString().slice(11, 16)
}

/** 05:28:07, the second it falls in. */
export function clockSeconds(time: number): string {
  return new Date(Math.floor((time + reader.shift) / 1000) * 1000).toISOString().slice(11, 19)
}

/** Sun 15 Aug 05:28. */
export function dayClock(time: number | string): string {
  const at = typeof time === 'string' ? Date.parse(time) : time
  return `${day(toMinute(at).getTime())} ${clock(at)}`
}

/** Sun 15 Aug. */
export function day(time: number): string {
  const at = new Date(time + reader.shift)
  return `${DAYS[at.getUTCDay()]} ${at.getUTCDate()} ${MONTHS[at.getUTCMonth()]}`
}

/** 2031-08-15. */
export function isoDay(time: string): string {
  return new Date(Date.parse(time) + reader.shift).toISOString().slice(0, 10)
}

/** The midnight before, by the clock read by. */
export function midnight(time: number): number {
  return Math.floor((time + reader.shift) / DAY) * DAY - reader.shift
}

/** A start as it stands in the address and in the question to the server. */
export function stamp(time: number): string {
  const text = new Date(time).toISOString()
  return text.slice(0, time % MINUTE === 0 ? 16 : 19) + 'Z'
}
