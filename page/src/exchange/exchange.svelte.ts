// What was told, agreed and done: read from the record, and added to it. What the server has not yet taken is kept here.
import { addEntry, assess, callRecord, Refused, Unreachable } from '../api'
import type { CallRecord, EntryShape, Fault, NewEntry, VerdictShape } from '../contract'
import { reader } from '../lib/reader.svelte'

export type State = EntryShape['state']
export type Role = EntryShape['role']
export const ROLES: Role[] = ['master', 'pilot', 'officer', 'other']

const AGAIN = 3_000 // ms between attempts to hand over what waits

class Exchange {
  call = $state('')
  by = $state('')
  role = $state<Role>('pilot')
  record = $state.raw<CallRecord | null>(null)
  verdict = $state.raw<VerdictShape | null>(null)
  trouble = $state.raw<Fault[]>([])
  /** Said here, not yet on the server's disk; survives a reload. */
  waiting = $state.raw<NewEntry[]>([])
  #sending = false

  constructor() {
    reader.changed(() => void this.refresh())
  }

  async begin(): Promise<void> {
    this.call = new URLSearchParams(location.search).get('exchange') ?? ''
    document.title = `Exchange · ${this.call} · Leadsman`
    this.by = localStorage.getItem('speaker') ?? ''
    this.role = ROLES.find((role) => role === localStorage.getItem('role')) ?? 'pilot'
    this.waiting = kept(this.#shelf)
    await this.refresh()
    setInterval(() => void this.#handOver(), AGAIN)
    await this.#handOver()
  }

  async refresh(): Promise<void> {
    try {
      const [record, answer] = await Promise.all([callRecord(this.call), assess(this.call, null)])
      this.record = record
      this.verdict = answer.verdict
      this.trouble = []
    } catch (error) {
      this.#told(error)
    }
  }

  speaksAs(by: string, role: Role): void {
    Object.assign(this, { by, role })
    localStorage.setItem('speaker', by)
    localStorage.setItem('role', role)
  }

  /** Say something of an item; it is kept here until the server has it on disk. */
  say(item: string, state: State, words = ''): void {
    const entry: NewEntry = {
      by: this.by.trim(),
      role: this.role,
      item,
      state,
      words: words.trim(),
      plan: this.record?.plan ?? '',
      seen: this.record?.number ?? 0,
    }
    this.#keep([...kept(this.#shelf), entry])
    void this.#handOver()
  }

  waitsFor(item: string): NewEntry | undefined {
    return this.waiting.findLast((entry) => entry.item === item)
  }

  /** Two tabs of one browser share what waits: one of them hands it over at a time, and nothing is said twice. */
  async #handOver(): Promise<void> {
    if (this.#sending) return
    this.#sending = true
    const left = kept(this.#shelf)
    const elsewhere = left.length < this.waiting.length // the other tab has handed some over
    this.waiting = left
    if (elsewhere) await this.refresh()
    await navigator.locks.request(this.#shelf, { ifAvailable: true }, async (lock) => {
      if (lock) await this.#send()
    })
    this.#sending = false
  }

  async #send(): Promise<void> {
    this.waiting = kept(this.#shelf)
    for (let next = this.waiting[0]; next; next = this.waiting[0]) {
      try {
        this.record = await addEntry(this.call, next)
        this.trouble = []
      } catch (error) {
        if (error instanceof Unreachable) {
          this.#told(error)
          break
        }
        // Refused for good: it is told and taken off, and the record is read again to show what stands there.
        this.#keep(kept(this.#shelf).slice(1))
        await this.refresh()
        this.#told(error)
        continue
      }
      // One's own word on an item has been seen; what others said of other items meanwhile has not.
      const number = this.record.number
      this.#keep(kept(this.#shelf).slice(1).map((entry) => (entry.item === next.item ? { ...entry, seen: number } : entry)))
    }
  }

  get #shelf(): string {
    return `exchange waiting ${this.call}`
  }

  #keep(waiting: NewEntry[]): void {
    this.waiting = waiting
    localStorage.setItem(this.#shelf, JSON.stringify(waiting))
  }

  #told(error: unknown): void {
    this.trouble =
      error instanceof Refused ? error.faults : [{ file: '', line: null, field: '', problem: String(error) }]
  }
}

function kept(shelf: string): NewEntry[] {
  try {
    const found: unknown = JSON.parse(localStorage.getItem(shelf) ?? '[]')
    return Array.isArray(found) ? (found as NewEntry[]) : []
  } catch {
    return []
  }
}

export const exchange = new Exchange()
