// A start typed by hand, as a person writes it: 13:20, 1320, 6 13:20, 6 May 1320, Tue 6 May 13:20, 2031-05-06 13:20.
import { MONTHS } from './format'
import { reader } from './reader.svelte'

const DAY = 86_400_000 // ms

/** The moment meant, nearest to `near` where the date is left out; or a sentence saying what was expected. By the clock
 *  read by, unless the text says UTC. */
export function readTime(text: string, near: number, begin: number, end: number): number | string {
  const shift = /(?:UTC|Z)\s*$/i.test(text) ? 0 : reader.shift
  const found = readClock(text, near + shift, begin + shift, end + shift)
  return typeof found === 'string' ? found : found - shift
}

function readClock(text: string, near: number, begin: number, end: number): number | string {
  const found = /^\s*(?:[A-Za-z]{3,9}\s+)?(.*?)\s*(\d{1,2}):?(\d{2})\s*(?:UTC|Z)?\s*$/i.exec(text)
  const hour = Number(found?.[2])
  const minute = Number(found?.[3])
  if (!found || hour > 23 || minute > 59) {
    return `“${text}” is no time; expected one such as 13:20, or 6 May 13:20 (${reader.clock})`
  }
  const within = (hour * 60 + minute) * 60_000
  const midnight = dateOf(found[1] ?? '', near, begin, end)
  if (midnight === null) return `“${text}” names no day; expected one such as 6 May 13:20 (${reader.clock})`
  const time = midnight + within
  if (time < begin || time > end) return 'That lies outside the time looked over; the strip shows how far it reaches'
  return time
}

function dateOf(text: string, near: number, begin: number, end: number): number | null {
  const today = Math.floor(near / DAY) * DAY
  if (text === '') return today
  const iso = /^(\d{4})-(\d{2})-(\d{2})T?$/.exec(text)
  if (iso) return Date.UTC(Number(iso[1]), Number(iso[2]) - 1, Number(iso[3]))
  const named = /^(\d{1,2})(?:\s+([A-Za-z]{3,9}))?$/.exec(text)
  if (!named) return null
  const month = named[2] ? MONTHS.findIndex((name) => named[2]?.toLowerCase().startsWith(name.toLowerCase())) : null
  if (month === -1) return null
  for (let midnight = Math.floor(begin / DAY) * DAY; midnight <= end; midnight += DAY) {
    const date = new Date(midnight)
    if (date.getUTCDate() === Number(named[1]) && (month === null || date.getUTCMonth() === month)) return midnight
  }
  return null
}
