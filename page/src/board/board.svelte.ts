// The board's one store: the files as read, the drawing as it is, what was done to it, and what the server says of it.
import { Refused } from '../api'
import type { CallFiles, CardFieldShape, Fault, InnerTable, PlacedFault, SaidOfParts } from '../contract'
import { reader, spelt } from '../lib/reader.svelte'
import { Steps } from '../lib/steps.svelte'
import { keepDraft, keptDraft } from './draft'
import { callFields, checkFiles, readFiles, restoreFiles, writeFiles } from './files'
import { nameOf, ringsOf, rows, thingOf, withNewArea, withRings, type Parts, type Ring, type Thing } from './parts'
import { Plane, type Position } from './plane'
import { layUnder, readUnderlay } from './underlay'

const PAUSE = 350 // ms without a change before the server is asked

/** What the pointer and the number lines do: change things, draw a new area, or cut a hole in the one chosen. */
export type Mode = 'things' | 'area' | 'hole'

class Board {
  call = $state('')
  fields = $state.raw<Record<string, CardFieldShape[]>>({})
  inner = $state.raw<Record<string, InnerTable[]>>({})
  read = $state.raw<CallFiles | null>(null)
  parts = $state.raw<Parts | null>(null)
  said = $state.raw<SaidOfParts | null>(null)
  trouble = $state.raw<Fault[]>([])
  /** What somebody else changed meanwhile; the drawing stays until one decides. */
  overtaken = $state.raw<Fault[] | null>(null)
  waiting = $state(false)
  /** What was last done here, for those who do not see it. */
  told = $state('')

  thing = $state<Thing>('')
  /** The corner in hand of the area chosen. */
  ring = $state(0)
  corner = $state(0)
  /** The chart drawn upon, if there is one, and whether it is shown. */
  underlay = $state.raw<object | null>(null)
  chartShown = $state(true)
  mode = $state<Mode>('things')
  sketch = $state.raw<Ring>([])
  /** What the paper shows: all, or `east,north,resolution`. */
  paper = $state('whole')
  /** The middle of the paper: where new things are put. */
  middle: Position = [0, 0]

  #steps = new Steps<Parts>()
  #timer: ReturnType<typeof setTimeout> | undefined
  #asked = 0

  undoable = $derived(this.#steps.undoable)
  redoable = $derived(this.#steps.redoable)
  dirty = $derived(this.read !== null && this.parts !== null && this.parts !== (this.read.parts as unknown as Parts))
  faults = $derived<PlacedFault[]>(this.said?.faults ?? this.read?.faults ?? [])

  plane = $derived.by(() => {
    const origin = this.parts?.waterway.origin as { latitude?: unknown; longitude?: unknown } | undefined
    const [latitude, longitude] = [origin?.latitude, origin?.longitude]
    return new Plane(typeof latitude === 'number' && typeof longitude === 'number' ? [latitude, longitude] : [0, 0])
  })

  async begin(): Promise<void> {
    const query = new URLSearchParams(location.search)
    this.call = query.get('draw') ?? ''
    this.thing = query.get('thing') ?? ''
    this.paper = query.get('paper') ?? 'whole'
    document.title = `Drawing ${this.call} · Leadsman`
    addEventListener('pagehide', () => this.#keepDraft())
    addEventListener('beforeunload', (event) => {
      this.#keepDraft()
      if (this.dirty && !keptDraft(this.call)) event.preventDefault()
    })
    await this.load()
  }

  /** Read the files; a drawing not saved yet is taken up again, unless it is left for what is in them. */
  async load(leaving = false): Promise<void> {
    this.waiting = true
    try {
      const [form, read] = await Promise.all([callFields(), readFiles(this.call)])
      this.fields = form.tables
      this.inner = form.inner
      if (leaving) this.#forgetDraft()
      this.#taken(read)
      const draft = keptDraft(this.call)
      if (draft) {
        this.#steps.add(this.parts as Parts, draft.words)
        this.parts = draft.parts
        this.told = 'The drawing not saved yet was taken up again.'
        if (draft.revision !== read.revision) {
          this.read = { ...read, revision: draft.revision }
          this.overtaken = [{ file: '', line: null, field: '', problem: 'the files were changed after this drawing was begun' }]
        }
      }
      this.#check()
    } catch (error) {
      this.#failed(error)
    }
    this.waiting = false
  }

  #taken(read: CallFiles): void {
    this.read = read
    this.parts = read.parts as unknown as Parts
    this.said = null
    this.trouble = []
    this.overtaken = null
    this.#steps.clear()
  }

  /** A change: one step to undo. While something is dragged the steps are one, begun with `hold`. */
  change(parts: Parts, words: string): void {
    if (!this.parts || parts === this.parts) return
    this.#steps.add(this.parts, words)
    this.#became(parts, `${words}.`)
  }

  drag(parts: Parts): void {
    if (!this.parts) return
    this.parts = parts
    this.#later()
  }

  /** The end of a drag that began with these parts. */
  dropped(before: Parts, words: string): void {
    if (!this.parts || before === this.parts) return
    this.#steps.add(before, words)
    this.#became(this.parts, `${words}.`)
  }

  undo(): void {
    const step = this.parts && this.#steps.undo(this.parts)
    if (step) this.#became(step.state, `Undone: ${step.words}.`)
  }

  redo(): void {
    const step = this.parts && this.#steps.redo(this.parts)
    if (step) this.#became(step.state, `Done again: ${step.words}.`)
  }

  #became(parts: Parts, told: string): void {
    this.parts = parts
    this.told = told
    const [table, index] = thingOf(this.thing)
    if (this.thing.includes(':') && index >= rows(parts, table).length) this.thing = ''
    if (this.corner >= (this.#rings()[this.ring]?.length ?? 0)) this.corner = this.ring = 0
    this.#later()
  }

  choose(thing: Thing): void {
    if (thing === this.thing) return
    this.thing = thing
    this.ring = this.corner = 0
    if (this.mode !== 'area') this.mode = 'things'
    this.write()
  }

  drawIn(mode: Mode): void {
    this.mode = mode
    this.sketch = []
  }

  addCorner(corner: [number, number]): void {
    this.sketch = [...this.sketch, corner]
  }

  /** The sketch becomes an area, or a hole in the one chosen. */
  close(): void {
    if (!this.parts || this.sketch.length < 3) return
    const [, index] = thingOf(this.thing)
    if (this.mode === 'area') {
      this.change(withNewArea(this.parts, this.sketch), 'depth area drawn')
      this.thing = `area:${this.parts.areas.features.length - 1}`
    } else {
      this.change(withRings(this.parts, index, [...this.#rings(), this.sketch]), `hole cut in ${nameOf(this.parts, this.thing)}`)
    }
    this.drawIn('things')
    this.write()
  }

  #rings(): Ring[] {
    const [table, index] = thingOf(this.thing)
    return table === 'area' ? ringsOf(this.parts?.areas.features[index]) : []
  }

  #later(): void {
    clearTimeout(this.#timer)
    this.#timer = setTimeout(() => this.#check(), PAUSE)
  }

  #check(): void {
    clearTimeout(this.#timer)
    this.#keepDraft()
    void this.#ask()
  }

  #keepDraft(): void {
    if (this.read === null || this.parts === null) return
    keepDraft(this.call, this.dirty ? { revision: this.read.revision, parts: this.parts, words: this.undoable ?? 'drawn' } : null)
  }

  /** A check still to come would keep the draft once more, so it goes with it. */
  #forgetDraft(): void {
    clearTimeout(this.#timer)
    keepDraft(this.call, null)
  }

  async #ask(): Promise<void> {
    if (!this.parts) return
    const asked = ++this.#asked
    this.waiting = true
    try {
      const said = await checkFiles(this.call, this.parts)
      if (asked !== this.#asked) return
      this.said = said
      this.trouble = []
    } catch (error) {
      if (asked !== this.#asked) return
      this.#failed(error)
    }
    this.waiting = false
  }

  /** Write the drawing to the files of the call; `over`: over what somebody else wrote, which stays among the versions. */
  async save(unfinished = false, over = false): Promise<void> {
    if (!this.parts || !this.read || !this.dirty) return
    this.waiting = true
    try {
      const words = [...new Set(this.#steps.words())].slice(-4).join('; ').slice(0, 110)
      const revision = over ? (await readFiles(this.call)).revision : this.read.revision
      const sent = this.parts
      const read = await writeFiles(this.call, revision, sent, words || 'drawn', unfinished)
      const drawn = this.parts
      this.#forgetDraft()
      this.#taken(read)
      if (drawn === sent) {
        this.told = 'Saved.'
        void this.#ask()
      } else {
        this.#steps.add(this.parts, 'what was drawn while saving')
        this.#became(drawn, 'Saved, but for what was drawn meanwhile.')
      }
    } catch (error) {
      this.#failed(error)
    }
    this.waiting = false
  }

  /** Leave what was drawn here and go on from what is in the files. */
  async leave(): Promise<void> {
    await this.load(true)
    this.told = 'Read again from the files.'
  }

  async restore(wanted: string): Promise<void> {
    if (!this.read) return
    this.waiting = true
    try {
      const read = await restoreFiles(this.call, this.read.revision, wanted)
      this.#forgetDraft()
      this.#taken(read)
      this.told = 'Gone back.'
      void this.#ask()
    } catch (error) {
      this.#failed(error)
    }
    this.waiting = false
  }

  /** Lay a chart cell under the drawing; nothing of the call changes. */
  async lay(cell: File | undefined): Promise<void> {
    if (!cell) return
    this.waiting = true
    try {
      await layUnder(this.call, cell)
      this.underlay = await readUnderlay(this.call)
      this.told = `${cell.name} lies beneath.`
    } catch (error) {
      this.#failed(error)
    }
    this.waiting = false
  }

  #failed(error: unknown): void {
    this.waiting = false
    const faults = error instanceof Refused ? error.faults : [{ file: '', line: null, field: '', problem: String(error) }]
    if (error instanceof Refused && error.status === 409) this.overtaken = faults
    else this.trouble = faults
  }

  show(paper: string): void {
    this.paper = paper
    this.write()
  }

  write(): void {
    const query = new URLSearchParams({ draw: this.call })
    if (this.thing !== '') query.set('thing', this.thing)
    if (this.paper !== 'whole') query.set('paper', this.paper)
    history.replaceState(null, '', `?${spelt(reader.into(query))}`)
  }
}

export const board = new Board()
