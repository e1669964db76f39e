// The files of a call as texts: as read, as they are being written, and what the server says of them. What is not saved yet
// is kept in this browser.
import { ask, Refused } from '../api'
import type { CallTexts, Fault, PlacedFault, SaidOfParts } from '../contract'
import { reader, spelt } from '../lib/reader.svelte'
import { Steps } from '../lib/steps.svelte'

type Texts = Record<string, string>

interface Draft {
  /** The revision of the files it was begun with. */
  revision: string
  texts: Texts
}

const PAUSE = 450 // ms without a letter before the server is asked
const BREATH = 1_500 // ms without a letter that end a step to undo

class CallText {
  call = $state('')
  file = $state('call.toml')
  read = $state.raw<CallTexts | null>(null)
  /** Texts that differ from the files. */
  changed = $state.raw<Texts>({})
  said = $state.raw<SaidOfParts | null>(null)
  trouble = $state.raw<Fault[]>([])
  /** What somebody else changed meanwhile. */
  overtaken = $state.raw<Fault[] | null>(null)
  waiting = $state(false)
  told = $state('')

  #steps = new Steps<Texts>()
  #typed = 0
  #burst = 0
  #timer: ReturnType<typeof setTimeout> | undefined
  #asked = 0

  undoable = $derived(this.#steps.undoable)
  redoable = $derived(this.#steps.redoable)
  files = $derived(Object.keys(this.read?.texts ?? {}))
  text = $derived(this.changed[this.file] ?? this.read?.texts[this.file] ?? '')
  dirty = $derived(Object.keys(this.changed).length > 0)
  faults = $derived<PlacedFault[]>(this.said?.faults ?? [])

  async begin(): Promise<void> {
    const query = new URLSearchParams(location.search)
    this.call = query.get('text') ?? ''
    this.file = query.get('file') ?? 'call.toml'
    document.title = `Texts of ${this.call} · Leadsman`
    await this.load()
  }

  async load(): Promise<void> {
    await this.#tried(async () => {
      const read = await ask('GET /calls/{call}/texts', { path: { call: this.call } })
      this.#taken(read)
      const draft = this.#kept()
      if (!draft) return
      this.#steps.add({}, 'all that was written before')
      this.changed = draft.texts
      this.told = 'What was not saved yet was taken up again.'
      if (draft.revision === read.revision) return
      this.read = { ...read, revision: draft.revision }
      this.overtaken = [{ file: '', line: null, field: '', problem: 'the files were changed after this was begun' }]
    })
    if (this.read) await this.#check()
  }

  #taken(read: CallTexts): void {
    this.read = read
    this.changed = {}
    this.overtaken = null
    this.trouble = []
    this.#steps.clear()
    if (!(this.file in read.texts)) this.file = Object.keys(read.texts)[0] ?? ''
  }

  type(text: string): void {
    const now = performance.now()
    if (now - this.#typed > BREATH) this.#burst += 1
    this.#typed = now
    this.#steps.add(this.changed, `${this.file} changed`, `${this.file} ${this.#burst}`)
    this.#became(this.#with(this.file, text), '')
  }

  #with(file: string, text: string): Texts {
    const { [file]: _, ...others } = this.changed
    return text === this.read?.texts[file] ? others : { ...others, [file]: text }
  }

  undo(): void {
    this.#burst += 1
    const step = this.#steps.undo(this.changed)
    if (step) this.#became(step.state, `Undone: ${step.words}.`)
  }

  redo(): void {
    const step = this.#steps.redo(this.changed)
    if (step) this.#became(step.state, `Done again: ${step.words}.`)
  }

  #became(changed: Texts, told: string): void {
    this.changed = changed
    this.told = told
    this.#keep()
    clearTimeout(this.#timer)
    this.#timer = setTimeout(() => void this.#check(), PAUSE)
  }

  async #check(): Promise<void> {
    const asked = ++this.#asked
    this.waiting = true
    await this.#tried(async () => {
      const said = await ask('POST /calls/{call}/texts/check', { path: { call: this.call }, body: { texts: this.changed } })
      if (asked === this.#asked) this.said = said
    })
    if (asked === this.#asked) this.waiting = false
  }

  /** `over`: over what somebody else wrote, which stays among the versions. */
  async save(unfinished = false, over = false): Promise<void> {
    if (!this.read || !this.dirty) return
    await this.#tried(async () => {
      const path = { call: this.call }
      const revision = over ? (await ask('GET /calls/{call}/texts', { path })).revision : (this.read?.revision ?? '')
      const words = `${Object.keys(this.changed).join(', ')} changed as text`.slice(0, 110)
      const read = await ask('PUT /calls/{call}/texts', { path, query: { unfinished }, headers: { 'If-Match': `"${revision}"` }, body: { texts: this.changed, words } })
      const later = Object.entries(this.changed).filter(([file, text]) => text !== read.texts[file])
      this.#taken(read)
      if (later.length > 0) {
        this.#steps.add({}, 'what was written while saving')
        this.changed = Object.fromEntries(later)
      }
      this.#keep()
      this.told = later.length > 0 ? 'Saved, but for what was written meanwhile.' : 'Saved.'
    })
  }

  /** Leave what was written here and go on from what is in the files. */
  async leave(): Promise<void> {
    this.changed = {}
    this.#keep()
    await this.load()
    this.told = 'Read again from the files.'
  }

  open(file: string): void {
    this.file = file
    this.#write()
  }

  #write(): void {
    const query = new URLSearchParams({ text: this.call, file: this.file })
    history.replaceState(null, '', `?${spelt(reader.into(query))}`)
  }

  async #tried(what: () => Promise<void>): Promise<void> {
    try {
      await what()
      this.trouble = []
    } catch (error) {
      const faults = error instanceof Refused ? error.faults : [{ file: '', line: null, field: '', problem: String(error) }]
      if (error instanceof Refused && error.status === 409) this.overtaken = faults
      else this.trouble = faults
      this.waiting = false
    }
  }

  get #shelf(): string {
    return `leadsman.text.${this.call}`
  }

  #keep(): void {
    if (this.dirty && this.read) localStorage.setItem(this.#shelf, JSON.stringify({ revision: this.read.revision, texts: this.changed }))
    else localStorage.removeItem(this.#shelf)
  }

  #kept(): Draft | null {
    try {
      return JSON.parse(localStorage.getItem(this.#shelf) ?? 'null') as Draft | null
    } catch {
      return null
    }
  }
}

export const texts = new CallText()
