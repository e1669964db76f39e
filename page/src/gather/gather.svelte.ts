// A new call: files dropped, what they are, what is asked, until the call can be made. All of it lies with the server, so
// that a reload loses nothing; the address holds its key.
import { ask, beginGathering, Refused, Unreachable } from '../api'
import type { Fault, Gathering, Question } from '../contract'
import { reader } from '../lib/reader.svelte'
import { Steps } from '../lib/steps.svelte'

type Answers = Record<string, string>

const AGAIN = 3_000 // ms between attempts to hand over what waits

class Gather {
  found = $state.raw<Gathering | null>(null)
  trouble = $state.raw<Fault[]>([])
  /** How many requests are on their way. */
  pending = $state(0)
  name = $state('')
  told = $state('')

  /** Answers given here that the server does not have yet; an empty one takes one back. They outlive a reload. */
  waiting = $state.raw<Answers>({})
  #steps = new Steps<Answers>()
  #sending = false
  /** The server has no such gathering any more. */
  #lost = false

  undoable = $derived(this.#steps.undoable)
  redoable = $derived(this.#steps.redoable)
  /** Every answer as it stands here. */
  answers = $derived<Answers>({ ...this.found?.answers, ...this.waiting })
  open = $derived(this.found?.questions.filter((question) => question.open && !this.waiting[question.key]).length ?? 0)

  async begin(): Promise<void> {
    document.title = 'A new call · Leadsman'
    this.waiting = kept(shelf(this.#keyed))
    setInterval(() => void this.#again(), AGAIN)
    await this.#again()
  }

  /** Ask for what is not here yet, and hand over what waits. */
  async #again(): Promise<void> {
    if (this.#keyed !== '' && !this.found && !this.#lost) {
      const reached = await this.#take(() => ask('GET /gatherings/{key}', { path: { key: this.#keyed } }))
      this.#lost = reached && !this.found
    }
    await this.#handOver()
  }

  /** The key in the address. */
  get #keyed(): string {
    return new URLSearchParams(location.search).get('new') ?? ''
  }

  /** Add files one after the other; the first begins the gathering. */
  async add(files: Iterable<File>): Promise<void> {
    for (const file of files) {
      if (!this.found) await this.#take(beginGathering)
      const key = this.found?.gathering
      if (!key) return
      this.#address(key)
      await this.#take(() => ask('PUT /gatherings/{key}/sources/{name}', { path: { key, name: file.name }, body: file }))
      const source = this.found?.sources.find((one) => one.name === file.name)
      this.told = `${file.name}: ${source?.kind || source?.problem || 'not taken'}.`
    }
  }

  async takeOut(name: string): Promise<void> {
    const key = this.found?.gathering ?? ''
    await this.#take(() => ask('DELETE /gatherings/{key}/sources/{name}', { path: { key, name } }))
    this.told = `${name} taken out.`
  }

  /** Answer a question; the answer stands here at once, and with the server as soon as it can be reached. */
  answer(key: string, words: string): void {
    const said = words.trim()
    if ((this.answers[key] ?? '') === said) return
    this.#steps.add(this.answers, `answer to ${key.replaceAll('_', ' ')}`)
    this.#keep({ ...this.waiting, [key]: said })
    void this.#handOver()
  }

  undo(): void {
    const step = this.#steps.undo(this.answers)
    if (step) this.#became(step.state, `Undone: ${step.words}.`)
  }

  redo(): void {
    const step = this.#steps.redo(this.answers)
    if (step) this.#became(step.state, `Done again: ${step.words}.`)
  }

  #became(answers: Answers, told: string): void {
    const changed = [...new Set([...Object.keys(answers), ...Object.keys(this.answers)])].filter((key) => (answers[key] ?? '') !== (this.answers[key] ?? ''))
    this.#keep({ ...this.waiting, ...Object.fromEntries(changed.map((key) => [key, answers[key] ?? ''])) })
    this.told = told
    void this.#handOver()
  }

  /** Hand over what waits, one bundle after the other, until nothing waits or the server cannot be reached. */
  async #handOver(): Promise<void> {
    if (this.#sending || !this.found) return
    this.#sending = true
    while (Object.keys(this.waiting).length > 0) {
      const bundle = this.waiting
      const key = this.found.gathering
      const reached = await this.#take(() => ask('PUT /gatherings/{key}/answers', { path: { key }, body: { answers: bundle } }))
      if (!reached) break
      this.#keep(Object.fromEntries(Object.entries(this.waiting).filter(([key, words]) => bundle[key] !== words)))
      this.told = this.open === 0 ? 'Nothing is open any more.' : `${this.open} still open.`
    }
    this.#sending = false
  }

  #keep(waiting: Answers): void {
    this.waiting = waiting
    const key = shelf(this.found?.gathering ?? '')
    if (Object.keys(waiting).length > 0) localStorage.setItem(key, JSON.stringify(waiting))
    else localStorage.removeItem(key)
  }

  /** Make the call, and go to the board to look at it. */
  async make(): Promise<void> {
    this.pending += 1
    try {
      const made = await ask('POST /gatherings/{key}/call', { path: { key: this.found?.gathering ?? '' }, body: { name: this.name.trim() } })
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

  /** What the server says, and whether it said anything: what it refuses for good is told and not asked again. */
  async #take(request: () => Promise<Gathering>): Promise<boolean> {
    this.pending += 1
    let reached = true
    try {
      this.found = await request()
      this.trouble = []
      if (this.name === '') this.name = proposed(this.found)
    } catch (error) {
      this.#failed(error)
      reached = !(error instanceof Unreachable)
    }
    this.pending -= 1
    return reached
  }

  #failed(error: unknown): void {
    this.trouble = error instanceof Refused ? error.faults : [{ file: '', line: null, field: '', problem: String(error) }]
  }

  #address(key: string): void {
    history.replaceState(null, '', reader.address(`?new=${key}`))
  }
}

const shelf = (gathering: string) => `leadsman.answers.${gathering}`

function kept(shelf: string): Answers {
  try {
    return JSON.parse(localStorage.getItem(shelf) ?? '{}') as Answers
  } catch {
    return {}
  }
}

/** A folder's name from the berth, once it is known. */
function proposed(found: Gathering): string {
  return (found.answers.berth ?? '').toLowerCase().replace(/[^a-z0-9]+/g, '-').replace(/^-+|-+$/g, '')
}

export const gather = new Gather()
