// How this reader reads: by which light, in which units and by whose clock. Kept in the address of every view.
export const LOOKS = ['day', 'dim', 'night'] as const
export type Look = (typeof LOOKS)[number]

export const LENGTHS = ['metres', 'feet'] as const
export const FORCES = ['tonnes', 'kilonewtons'] as const

const FOOT = 0.3048 // m, exact (international foot, 1959)
const MINUTE = 60_000 // ms

/** Differences from UTC in use on earth, in minutes: whole hours, and those between. Common practice, no source. */
export const ZONES = [
  ...Array.from({ length: 27 }, (_, i) => (i - 12) * 60),
  ...[-570, -210, 210, 270, 330, 345, 390, 525, 570, 630, 765],
].sort((a, b) => a - b)

class Reader {
  look = $state<Look>('day')
  lengths = $state<(typeof LENGTHS)[number]>('metres')
  forces = $state<(typeof FORCES)[number]>('tonnes')
  /** What is added to UTC to give the clock read by. [min] */
  zone = $state(0)

  /** A length in the unit read in, and its sign. [m] */
  unit = $derived(this.lengths === 'feet' ? FOOT : 1)
  sign = $derived(this.lengths === 'feet' ? 'ft' : 'm')
  force = $derived(this.forces === 'kilonewtons' ? 'kN' : 't')
  /** By which clock times are written. */
  clock = $derived(this.zone === 0 ? 'UTC' : `UTC${difference(this.zone)}`)
  /** What is added to a moment so that its UTC shows the clock read by. [ms] */
  shift = $derived(this.zone * MINUTE)

  #told: (() => void)[] = []

  /** As the address says; what it does not say is as usual. */
  read(query = new URLSearchParams(location.search)): void {
    this.look = LOOKS.find((look) => look === query.get('look')) ?? 'day'
    this.lengths = LENGTHS.find((one) => one === query.get('lengths')) ?? 'metres'
    this.forces = FORCES.find((one) => one === query.get('forces')) ?? 'tonnes'
    const zone = minutes(query.get('zone') ?? '')
    this.zone = ZONES.includes(zone) ? zone : 0
    document.documentElement.dataset.look = this.look
  }

  /** Everything of it that is not as usual, into a query. */
  into(query: URLSearchParams): URLSearchParams {
    if (this.look !== 'day') query.set('look', this.look)
    for (const [name, value] of this.manner()) query.set(name, value)
    return query
  }

  /** Units and clock, as the server is asked for them; empty where all is as usual. */
  manner(): [string, string][] {
    const found: [string, string][] = []
    if (this.lengths !== 'metres') found.push(['lengths', this.lengths])
    if (this.forces !== 'tonnes') found.push(['forces', this.forces])
    if (this.zone !== 0) found.push(['zone', difference(this.zone).replace('−', '-')])
    return found
  }

  /** An address of the page or the server, read as this reader reads. */
  address(path: string): string {
    const [place = '', query = ''] = path.split('?')
    const wanted = new URLSearchParams(query)
    const asked = place.startsWith('/api/')
    if (asked) for (const [name, value] of this.manner()) wanted.set(name, value)
    else this.into(wanted)
    const text = asked ? wanted.toString() : spelt(wanted)
    return text === '' ? place : `${place}?${text}`
  }

  lookBy(look: Look): void {
    this.look = look
    document.documentElement.dataset.look = look
    this.#write()
  }

  readIn(manner: Partial<Pick<Reader, 'lengths' | 'forces' | 'zone'>>): void {
    Object.assign(this, manner)
    this.#write()
    for (const tell of this.#told) tell()
  }

  /** Called after units or clock have changed: what the server wrote must be asked for again. */
  changed(tell: () => void): void {
    this.#told.push(tell)
  }

  /** Into the address, whatever view that is of. */
  #write(): void {
    const query = new URLSearchParams(location.search)
    for (const name of ['look', 'lengths', 'forces', 'zone']) query.delete(name)
    history.replaceState(null, '', `?${spelt(this.into(query))}`)
  }
}

/** A query as it stands in the address: only what must be is written in percent. */
export function spelt(query: URLSearchParams): string {
  return query.toString().replaceAll('%3A', ':').replaceAll('%2C', ',').replaceAll('%2F', '/')
}

/** +05:30, from minutes. */
export function difference(zone: number): string {
  const [hours, rest] = [Math.floor(Math.abs(zone) / 60), Math.abs(zone) % 60]
  return `${zone < 0 ? '−' : '+'}${String(hours).padStart(2, '0')}:${String(rest).padStart(2, '0')}`
}

function minutes(text: string): number {
  const found = /^([+-])(\d{2}):(\d{2})$/.exec(text)
  return found ? (found[1] === '-' ? -1 : 1) * (Number(found[2]) * 60 + Number(found[3])) : 0
}

export const reader = new Reader()
