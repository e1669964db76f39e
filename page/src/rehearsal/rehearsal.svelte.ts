// A rehearsal looked at: what was asked, how far it is, its answer, and the moment shown. All of it in the address.
import { assess, beginWork, Refused, stopWork, workAnswer, workStanding } from '../api'
import type { Assessment, Fault, WorkStanding } from '../contract'
import { CrossLines } from '../lib/crosslines'
import { reader, spelt } from '../lib/reader.svelte'
import type { Failing } from './lost'
import { Moments, type Rehearsal } from './reply'

const LOOK_AGAIN = 700 // ms between two questions of how far it is
const SETTLE = 200 // ms
export const RATES = [1, 5, 20, 60] as const

export interface Wish {
  runs: number
  seed: number
  start: string | null
  wind_speed_kn: number | null
  wind_from_deg: number | null
  keep: boolean
}

class Rehearsed {
  call = $state('')
  /** Seconds since the start of the run. */
  time = $state(0)
  playing = $state(false)
  rate = $state<number>(20)
  /** Whether the plan is held at the ship. */
  held = $state(false)
  /** Which run is shown: as planned, or the drawn one that failed worst. */
  shown = $state<'planned' | 'worst'>('planned')
  wish = $state<Wish>({ runs: 200, seed: 1, start: null, wind_speed_kn: null, wind_from_deg: null, keep: true })

  answer = $state.raw<Assessment | null>(null)
  lines = $state.raw<CrossLines | null>(null)
  found = $state.raw<Rehearsal | null>(null)
  standing = $state.raw<WorkStanding | null>(null)
  trouble = $state.raw<Fault[]>([])
  /** The failure whose places the plan shows. */
  lost = $state.raw<Failing | null>(null)
  #settling: ReturnType<typeof setTimeout> | undefined
  #last = 0

  run = $derived(this.shown === 'worst' ? (this.found?.ensemble?.worst ?? this.found?.planned) : this.found?.planned)
  moments = $derived(this.run && this.run.track.length > 0 ? new Moments(this.run) : null)

  constructor() {
    reader.changed(() => void this.#tried(() => this.#again()))
  }

  async begin(): Promise<void> {
    const query = new URLSearchParams(location.search)
    this.call = query.get('rehearsal') ?? ''
    this.time = Number(query.get('t') ?? 0) || 0
    this.shown = query.get('run') === 'worst' ? 'worst' : 'planned'
    this.held = query.get('held') === 'yes'
    this.wish.start = query.get('start')
    document.title = `Rehearsal · ${this.call} · Leadsman`
    await this.#tried(() => this.#again())
  }

  /** Ask for everything, as the reader reads. */
  async #again(): Promise<void> {
    this.answer = await assess(this.call, this.wish.start)
    this.lines = new CrossLines(this.answer.account, this.answer.plan)
    await this.#look()
  }

  /** Sail it: one run as planned and as many drawn ones as wished. */
  async sail(): Promise<void> {
    await this.#tried(async () => {
      this.standing = await beginWork(this.call, 'rehearsal', { ...this.wish })
      this.playing = false
      await this.#look()
    })
  }

  async stop(): Promise<void> {
    await this.#tried(async () => {
      this.standing = await stopWork(this.call, 'rehearsal')
    })
  }

  show(run: 'planned' | 'worst'): void {
    this.shown = run
    this.time = Math.min(this.time, this.moments?.end ?? 0)
    this.write()
  }

  hold(held: boolean): void {
    this.held = held
    this.write()
  }

  jump(time: number): void {
    this.time = Math.min(Math.max(time, 0), this.moments?.end ?? 0)
    this.#settle()
  }

  play(): void {
    if (!this.moments) return
    if (this.time >= this.moments.end) this.time = 0
    this.playing = !this.playing
    this.#last = performance.now()
    if (this.playing) requestAnimationFrame((now) => this.#frame(now))
    else this.write()
  }

  #frame(now: number): void {
    if (!this.playing || !this.moments) return
    this.time = Math.min(this.time + ((now - this.#last) / 1000) * this.rate, this.moments.end)
    this.#last = now
    if (this.time >= this.moments.end) {
      this.playing = false
      this.write()
    } else requestAnimationFrame((next) => this.#frame(next))
  }

  /** How it stands, again and again while it is being sailed; its answer when there is one. */
  async #look(): Promise<void> {
    this.standing = await workStanding(this.call, 'rehearsal')
    while (this.standing.state === 'running') {
      await new Promise((resolve) => setTimeout(resolve, LOOK_AGAIN))
      this.standing = await workStanding(this.call, 'rehearsal')
    }
    if (this.standing.state === 'done') {
      this.found = await workAnswer<Rehearsal>(this.call, 'rehearsal')
      const options = this.standing.options as unknown as Wish | null
      if (options) this.wish = { ...this.wish, ...options }
      this.time = Math.min(this.time, this.moments?.end ?? 0)
    }
  }

  async #tried(what: () => Promise<void>): Promise<void> {
    try {
      await what()
      this.trouble = []
    } catch (error) {
      this.trouble = error instanceof Refused ? error.faults : [{ file: '', line: null, field: '', problem: String(error) }]
    }
  }

  #settle(): void {
    clearTimeout(this.#settling)
    this.#settling = setTimeout(() => this.write(), SETTLE)
  }

  write(): void {
    clearTimeout(this.#settling)
    const query = new URLSearchParams({ rehearsal: this.call })
    if (this.wish.start !== null) query.set('start', this.wish.start)
    if (this.time > 0) query.set('t', this.time.toFixed(0))
    if (this.shown === 'worst') query.set('run', 'worst')
    if (this.held) query.set('held', 'yes')
    history.replaceState(null, '', `?${spelt(reader.into(query))}`)
  }
}

export const rehearsal = new Rehearsed()
