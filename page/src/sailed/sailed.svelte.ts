// A log against the plan: the file as chosen here, what the server says of it, and the place looked at. The server keeps
// nothing of a log; this browser keeps it until the page is left.
import { ask, assess, Refused } from '../api'
import type { Assessment, Fault, SailedPassage } from '../contract'
import { CrossLines } from '../lib/crosslines'
import { reader, spelt } from '../lib/reader.svelte'

class Sailed {
  call = $state('')
  answer = $state.raw<Assessment | null>(null)
  lines = $state.raw<CrossLines | null>(null)
  log = $state.raw<File | null>(null)
  found = $state.raw<SailedPassage | null>(null)
  trouble = $state.raw<Fault[]>([])
  waiting = $state(false)
  vessel = $state('')
  /** As typed: what the gauge stood above the prediction, and from bow to antenna; in metres, empty where not known. */
  residual = $state('')
  antenna = $state('')
  /** The place looked at closely; empty: the whole way. */
  place = $state('')
  #asked = 0

  passing = $derived(this.found?.passings.find((one) => one.place === this.place) ?? null)

  constructor() {
    reader.changed(() => void this.#read().then(() => this.ask()))
  }

  async begin(): Promise<void> {
    const query = new URLSearchParams(location.search)
    this.call = query.get('sailed') ?? ''
    this.place = query.get('place') ?? ''
    document.title = `As sailed · ${this.call} · Leadsman`
    await this.#read()
  }

  async #read(): Promise<void> {
    try {
      this.answer = await assess(this.call, null)
      this.lines = new CrossLines(this.answer.account, this.answer.plan)
      this.trouble = []
    } catch (error) {
      this.#failed(error)
    }
  }

  async take(log: File | undefined): Promise<void> {
    if (!log) return
    this.log = log
    this.found = null
    await this.ask()
  }

  /** Ask what the log says with what is typed beside it; a later question overtakes an earlier one. */
  async ask(): Promise<void> {
    if (!this.log) return
    const wrong = [this.residual, this.antenna].filter((typed) => Number.isNaN(number(typed)))
    if (wrong.length > 0) {
      this.trouble = wrong.map((typed) => ({ file: '', line: null, field: '', problem: `'${typed}' is no number; expected metres, such as 0.30` }))
      return
    }
    const asked = ++this.#asked
    this.waiting = true
    try {
      const query = { vessel: this.vessel.trim() || null, residual: number(this.residual), antenna: number(this.antenna) }
      const found = await ask('POST /calls/{call}/sailed', { path: { call: this.call }, query, body: this.log })
      if (asked !== this.#asked) return
      this.found = found
      this.trouble = []
    } catch (error) {
      if (asked !== this.#asked) return
      this.found = null
      this.#failed(error)
    }
    this.waiting = false
  }

  look(place: string): void {
    this.place = place === this.place ? '' : place
    const query = new URLSearchParams({ sailed: this.call })
    if (this.place !== '') query.set('place', this.place)
    history.replaceState(null, '', `?${spelt(reader.into(query))}`)
  }

  #failed(error: unknown): void {
    this.trouble = error instanceof Refused ? error.faults : [{ file: '', line: null, field: '', problem: String(error) }]
  }
}

/** What is typed, with a comma or a point; null where nothing is, not a number where it is none. */
function number(typed: string): number | null {
  return typed.trim() === '' ? null : Number(typed.trim().replace(',', '.').replace('−', '-'))
}

export const sailed = new Sailed()
