// The one store: what is looked at (all of it in the address), and the answer for it.
import { assess, listCalls, listSources, Refused } from './api'
import type { Assessment, Document, Fault, WindowShape } from './contract'
import { readFiles, revisionOf, writeFiles } from './board/files'
import { stationAt } from './lib/along'
import { stamp } from './lib/format'
import { reader, spelt } from './lib/reader.svelte'
import { Steps } from './lib/steps.svelte'

const MINUTE = 60_000 // ms
const LOOK = 5_000 // ms between two looks whether somebody else changed the files
const SETTLE = 150 // ms between moving something and writing it into the address: browsers limit how often that may be

/** What undoing a step brings back. */
interface Moved {
  start: number | null
  /** The call's own start as it stood in its files, where a step changed it. */
  own?: string
}

class Sheet {
  calls = $state<string[] | null>(null)
  call = $state<string | null>(null)
  /** The start asked for, in ms; null: the call's own. */
  start = $state<number | null>(null)
  /** The place pointed at, in metres along the way; null: the place that binds. */
  place = $state<number | null>(null)
  /** Which figure's origin is open, such as `line:squat` or `figure:draught`. */
  origin = $state<string | null>(null)
  /** What the plan shows: the whole way, the ship, or `east,north,resolution`. */
  plan = $state('whole')
  /** In which order tables stand, such as `windows.length-`. */
  order = $state('')

  answer = $state.raw<Assessment | null>(null)
  faults = $state.raw<Fault[]>([])
  waiting = $state(false)
  /** The bibliography, by key. */
  sources = $state.raw<Record<string, Document>>({})

  /** What was last done here, for those who do not see it. */
  told = $state('')
  /** Whether the files are no longer those the answer was worked out from. */
  overtaken = $state(false)

  #steps = new Steps<Moved>()
  undoable = $derived(this.#steps.undoable)
  redoable = $derived(this.#steps.redoable)
  /** The start before it began to be slid; undefined: it is not being slid. */
  #slidFrom: number | null | undefined
  /** The call's own start as last written from here. */
  #own: string | undefined
  /** The files the answer was worked out from. */
  #revision = ''
  #asked = ''
  #settling: ReturnType<typeof setTimeout> | undefined

  /** The station everything on the sheet points at. */
  station = $derived.by(() => {
    if (!this.answer) return 0
    return stationAt(this.answer.account, this.place ?? this.answer.verdict.binding.distance.value)
  })

  /** The start shown: the one asked for, though its answer may still be on the way. */
  shownStart = $derived(this.start ?? (this.answer ? Date.parse(this.answer.call.start.value) : null))

  earliest = $derived(this.answer ? Math.ceil(Date.parse(this.answer.call.search_begin.value) / MINUTE) * MINUTE : 0)
  latest = $derived(this.answer ? Math.floor(Date.parse(this.answer.call.search_end.value) / MINUTE) * MINUTE : 0)

  constructor() {
    reader.changed(() => void this.#ask())
  }

  async begin(): Promise<void> {
    this.#read()
    addEventListener('popstate', () => {
      this.#read()
      void this.#ask()
    })
    setInterval(() => void this.#look(), LOOK)
    addEventListener('focus', () => void this.#look())
    try {
      ;[this.calls, this.sources] = await Promise.all([listCalls(), listSources()])
      if (this.call === null && this.calls.length === 1) this.call = this.calls[0] ?? null
    } catch (error) {
      this.#told(error)
      return
    }
    await this.#ask()
  }

  open(call: string): void {
    this.#steps.clear()
    this.#own = undefined
    this.#revision = ''
    Object.assign(this, { call, start: null, place: null, origin: null, plan: 'whole' })
    this.#write('push')
    void this.#ask()
  }

  /** Start at this moment, to the minute. While it is being moved nothing new is put into the browser's history. */
  startAt(time: number, settled = true): void {
    const minute = Math.round(time / MINUTE) * MINUTE
    if (this.#slidFrom === undefined) this.#slidFrom = this.start
    this.start = Math.min(Math.max(minute, this.earliest), this.latest)
    if (settled) this.#moved()
    else this.#settle()
    void this.#ask()
  }

  /** The start stands where it was moved to: one step, also in the browser's history. */
  #moved(): void {
    const before = this.#slidFrom ?? null
    this.#slidFrom = undefined
    if (before !== this.start) this.#steps.add({ start: before, own: this.#own }, 'start moved')
    this.#write('push')
  }

  /** Start in this window where it leaves most to spare: on a whole minute, if the window holds one. */
  startIn(window: WindowShape): void {
    const [opens, best, closes] = [window.opens, window.best_start, window.closes].map((one) => Date.parse(one.value))
    if (opens === undefined || best === undefined || closes === undefined) return
    const minutes = [Math.floor(best / MINUTE) * MINUTE, Math.ceil(best / MINUTE) * MINUTE]
    const inside = minutes.filter((minute) => minute >= opens && minute <= closes)
    this.#slidFrom = this.start
    this.start = inside.sort((a, b) => Math.abs(a - best) - Math.abs(b - best))[0] ?? best
    this.#moved()
    void this.#ask()
  }

  /** Make the start shown the call's own, in its files: what the exchange and the record speak of. */
  async keepStart(): Promise<void> {
    if (this.start === null) return
    const before = this.start
    const own = await this.#writeStart(stamp(before))
    if (own === null) return
    this.#steps.add({ start: before, own }, 'start kept as the call’s own')
    this.told = 'This start is now the call’s own.'
  }

  undo(): void {
    const step = this.#steps.undo({ start: this.start, own: this.#own })
    if (step) void this.#goBack(step.state, `Undone: ${step.words}.`)
  }

  redo(): void {
    const step = this.#steps.redo({ start: this.start, own: this.#own })
    if (step) void this.#goBack(step.state, `Done again: ${step.words}.`)
  }

  async #goBack(state: Moved, told: string): Promise<void> {
    if (state.own !== undefined && this.#own !== undefined && state.own !== this.#own && (await this.#writeStart(state.own)) === null) return
    this.start = state.start
    this.told = told
    this.#write('push')
    void this.#ask()
  }

  /** Write the call's own start; what it was before, or null where that failed and was told. */
  async #writeStart(start: string): Promise<string | null> {
    if (this.call === null) return null
    try {
      const { parts } = await readFiles(this.call)
      const call = parts.call as Record<string, unknown>
      this.#revision = (await writeFiles(this.call, this.#revision, { call: { ...call, start } }, `start ${start}`, false)).revision
      this.#own = start
      this.start = null
      this.#asked = ''
      this.#write('push')
      void this.#ask()
      return String(call.start)
    } catch (error) {
      this.overtaken = error instanceof Refused && error.status === 409
      this.told = `${this.overtaken ? 'Not kept, others changed the files: ' : ''}${error instanceof Refused ? error.message : String(error)}`
      return null
    }
  }

  /** See whether somebody else changed the files; what is shown stays until one asks for it anew. */
  async #look(): Promise<void> {
    const [call, known] = [this.call, this.#revision]
    if (call === null || known === '' || this.waiting || document.hidden) return
    const now = await revisionOf(call).catch(() => known)
    if (call === this.call && known === this.#revision && !this.waiting) this.overtaken = now !== known
  }

  pointAt(place: number): void {
    this.place = place
    this.#settle()
  }

  pointAtStation(station: number): void {
    const place = this.answer?.account.distance[station]
    if (place !== undefined) this.pointAt(place)
  }

  showOrigin(key: string | null): void {
    this.origin = key
    this.#write('replace')
  }

  orderBy(order: string): void {
    this.order = order
    this.#write('replace')
  }

  showPlan(plan: string): void {
    this.plan = plan
    this.#settle()
  }

  /** Ask again, after the server or the files have been mended. */
  again(): void {
    this.#asked = ''
    this.#revision = ''
    if (this.calls === null) void this.begin()
    else void this.#ask()
  }

  /** Ask for what is wanted now; while one question is on its way only the last of those that follow is asked. */
  async #ask(): Promise<void> {
    if (this.call === null || this.waiting) return
    let wanted = this.#wanted()
    if (wanted === this.#asked) return
    this.waiting = true
    while (wanted !== this.#asked && this.call !== null) {
      this.#asked = wanted
      try {
        // Before, so that what changes while it is worked out is told.
        if (this.#revision === '' || this.overtaken) this.#revision = await revisionOf(this.call)
        const answer: Assessment = await assess(this.call, this.start === null ? null : stamp(this.start))
        this.answer = answer
        this.faults = []
        this.overtaken = false
        document.title = `${answer.call.name} · Leadsman`
      } catch (error) {
        this.#told(error)
      }
      wanted = this.#wanted()
    }
    this.waiting = false
  }

  #wanted(): string {
    return `${this.call} ${this.start} ${reader.manner().join(' ')}`
  }

  #told(error: unknown): void {
    this.answer = null
    this.faults =
      error instanceof Refused ? error.faults : [{ file: '', line: null, field: '', problem: String(error) }]
  }

  #read(): void {
    const query = new URLSearchParams(location.search)
    const call = query.get('call')
    if (call !== this.call) {
      this.answer = null
      this.#revision = ''
    }
    this.call = call
    const start = Date.parse(query.get('start') ?? '')
    this.start = Number.isFinite(start) ? start : null
    const place = query.get('at')
    this.place = place !== null && Number.isFinite(Number(place)) ? Number(place) : null
    reader.read(query)
    this.origin = query.get('origin')
    this.plan = query.get('plan') ?? 'whole'
    this.order = query.get('order') ?? ''
  }

  #settle(): void {
    clearTimeout(this.#settling)
    this.#settling = setTimeout(() => this.#write('replace'), SETTLE)
  }

  #write(how: 'push' | 'replace'): void {
    clearTimeout(this.#settling)
    const query = new URLSearchParams()
    if (this.call !== null) query.set('call', this.call)
    if (this.start !== null) query.set('start', stamp(this.start))
    if (this.place !== null) query.set('at', this.place.toFixed(0))
    if (this.origin !== null) query.set('origin', this.origin)
    if (this.plan !== 'whole') query.set('plan', this.plan)
    if (this.order !== '') query.set('order', this.order)
    const address = `?${spelt(reader.into(query))}`
    if (address === location.search) return
    if (how === 'push') history.pushState(null, '', address)
    else history.replaceState(null, '', address)
  }
}

export const sheet = new Sheet()
