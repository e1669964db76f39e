// A new call: files dropped, what they are, what is asked, until the call can be made. All of it lies with the server, so
// that a reload loses nothing; the address holds its key.
import { ask, post, Refused } from '../api'
import type { CallMade, Fault, Gathering, Question } from '../contract'
import { reader } from '../lib/reader.svelte'

class Gather {
  found = $state.raw<Gathering | null>(null)
  trouble = $state.raw<Fault[]>([])
  /** How many requests are on their way. */
  pending = $state(0)
  name = $state('')
  told = $state('')

  open = $derived(this.found?.questions.filter((question) => question.open).length ?? 0)

  async begin(): Promise<void> {
    const query = new URLSearchParams(location.search)
    document.title = 'A new call · Leadsman'
    const key = query.get('new') ?? ''
    if (key !== '') await this.#take(() => ask<Gathering>(`/gatherings/${encodeURIComponent(key)}`, {}))
  }

  /** Add files one after the other; the first begins the gathering. */
  async add(files: Iterable<File>): Promise<void> {
    for (const file of files) {
      if (!this.found) await this.#take(() => post<Gathering>('/gatherings', {}))
      const key = this.found?.gathering
      if (!key) return
      this.#address(key)
      const headers = { 'Content-Type': 'application/octet-stream' }
      await this.#take(() => ask<Gathering>(`/gatherings/${key}/sources/${encodeURIComponent(file.name)}`, { method: 'PUT', headers, body: file }))
      const source = this.found?.sources.find((one) => one.name === file.name)
      this.told = `${file.name}: ${source?.kind || source?.problem || 'not taken'}.`
    }
  }

  async takeOut(name: string): Promise<void> {
    const key = this.found?.gathering ?? ''
    await this.#take(() => ask<Gathering>(`/gatherings/${key}/sources/${encodeURIComponent(name)}`, { method: 'DELETE' }))
    this.told = `${name} taken out.`
  }

  async answer(key: string, words: string): Promise<void> {
    if ((this.found?.answers[key] ?? '') === words.trim()) return
    const headers = { 'Content-Type': 'application/json' }
    const body = JSON.stringify({ answers: { [key]: words.trim() } })
    await this.#take(() => ask<Gathering>(`/gatherings/${this.found?.gathering ?? ''}/answers`, { method: 'PUT', headers, body }))
    this.told = this.open === 0 ? 'Nothing is open any more.' : `${this.open} still open.`
  }

  /** Make the call, and go to the board to look at it. */
  async make(): Promise<void> {
    this.pending += 1
    try {
      const made = await post<CallMade>(`/gatherings/${this.found?.gathering ?? ''}/call`, { name: this.name.trim() })
      location.assign(reader.address(`?draw=${encodeURIComponent(made.call)}`))
    } catch (error) {
      this.#failed(error)
    }
    this.pending -= 1
  }

  /** What is wrong with an answer. */
  faultOf(question: Question): string {
    return (this.found?.faults ?? []).filter((fault) => fault.field === question.key || fault.field.startsWith(`${question.key}@`)).map((fault) => fault.problem).join('; ')
  }

  async #take(request: () => Promise<Gathering>): Promise<void> {
    this.pending += 1
    try {
      this.found = await request()
      this.trouble = []
      if (this.name === '') this.name = proposed(this.found)
    } catch (error) {
      this.#failed(error)
    }
    this.pending -= 1
  }

  #failed(error: unknown): void {
    this.trouble = error instanceof Refused ? error.faults : [{ file: '', line: null, field: '', problem: String(error) }]
  }

  #address(key: string): void {
    history.replaceState(null, '', reader.address(`?new=${key}`))
  }
}

/** A folder's name from the berth, once it is known. */
function proposed(found: Gathering): string {
  return (found.answers.berth ?? '').toLowerCase().replace(/[^a-z0-9]+/g, '-').replace(/^-+|-+$/g, '')
}

export const gather = new Gather()
