// The card's form: what was typed, and what the server says of it. What was typed is kept in this browser until it is given
// to a new call; the server keeps nothing of it.
import { beginGathering, callCard, cardForm, checkCard, giveCard, listCalls, Refused, setBeside, writeCard } from '../api'
import type { CardChangeShape, CardFieldShape, CardFigureShape, CardGroupShape, CardsBeside, CheckedCard, Fault, FindingShape, OwnFieldShape } from '../contract'
import { reader } from '../lib/reader.svelte'
import { Steps } from '../lib/steps.svelte'
import { inFeet, metresOf } from './feet'
import { at, idOf, itemsIn, put, withLoose, type Table } from './form'
import { keepTyped, keptTyped, type Typed } from './kept'
import { numberOf, read, written } from './typing'

const PAUSE = 250 // ms without a key before the server is asked

export interface Told {
  number: number
  finding: FindingShape
}

class Card {
  /** The port call whose card was taken to begin with; empty: none. */
  call = $state('')
  /** The port call whose card stands beside this one; empty: her other condition; null: none. */
  beside = $state<string | null>(null)
  calls = $state.raw<string[]>([])
  two = $state.raw<CardsBeside | null>(null)
  /** The new call that the card is typed for; empty: none yet. */
  gathering = $state('')
  groups = $state.raw<CardGroupShape[]>([])
  /** As typed, by the field's id. */
  values = $state<Record<string, string>>({})
  /** The rows of each table whose rows the card does not name. */
  counts = $state<Record<string, number>>({})
  /** The handler's own figures as typed, by their key; a key that is there and empty is being typed. */
  own = $state<Record<string, string>>({})
  /** Lengths that were typed in feet, as typed, by the field's id; their values are kept in metres. */
  feet = $state<Record<string, string>>({})
  /** Figures that can be overruled, by name. */
  ownFields = $state.raw(new Map<string, OwnFieldShape>())
  /** What was last said of a card without faults: kept in sight while an own figure is being typed. */
  seen = $state.raw<CheckedCard | null>(null)

  answer = $state.raw<CheckedCard | null>(null)
  trouble = $state.raw<Fault[]>([])
  waiting = $state(false)
  /** What was last done here, for those who do not see it. */
  done = $state('')
  /** Whether what stands here was typed before and taken up again. */
  takenUp = $state(false)

  #steps = new Steps<Typed>()
  /** The revision of the call's files that the card was read with. */
  #revision = ''
  #orders: string[] = []
  #ownSources: unknown
  #timer: ReturnType<typeof setTimeout> | undefined
  #asked = 0

  /** What cannot be so, by the field's id. */
  faults = $derived.by(() => {
    const found: Record<string, string> = {}
    for (const fault of this.answer?.faults ?? []) found[this.#named(fault.field)] ??= fault.problem
    return found
  })

  undoable = $derived(this.#steps.undoable)
  redoable = $derived(this.#steps.redoable)

  /** Whether the card as it stands can be given to a new call. */
  sound = $derived(!this.waiting && this.answer !== null && this.answer.faults.length === 0 && this.trouble.length === 0)

  told = $derived((this.answer?.findings ?? []).map((finding, index): Told => ({ number: index + 1, finding })))

  figures = $derived(new Map((this.answer?.figures ?? []).map((figure) => [figure.name, figure])))

  /** The answer whose figures are shown: faults of own figures alone leave the last one standing. */
  standing = $derived.by(() => {
    const faults = this.answer?.faults ?? []
    if (faults.length === 0) return this.answer
    return faults.every((fault) => fault.field.startsWith('own_figures.')) ? this.seen : null
  })

  changes = $derived(new Map((this.standing?.changes ?? []).map((change): [string, CardChangeShape] => [change.name, change])))

  count = $derived.by(() => {
    const grades = this.told.map((one) => one.finding.grade)
    const counted = (['stop', 'caution', 'note'] as const).map((grade) => [grade, grades.filter((one) => one === grade).length] as const)
    return counted.filter(([, number]) => number > 0).map(([grade, number]) => `${number} ${grade}${number > 1 ? 's' : ''}`)
  })

  constructor() {
    reader.changed(() => this.changed())
  }

  async begin(): Promise<void> {
    const query = new URLSearchParams(location.search)
    this.call = query.get('card') ?? ''
    this.beside = query.get('beside')
    this.gathering = query.get('new') ?? ''
    document.title = 'Ship card · Leadsman'
    try {
      const none = { card: {}, revision: '' }
      const [form, { card, revision }, calls] = await Promise.all([cardForm(), this.call === '' ? none : callCard(this.call), listCalls()])
      this.#revision = revision
      this.calls = calls
      this.groups = withLoose(form.groups, card)
      this.ownFields = new Map(form.own.map((field) => [field.name, field]))
      this.#fill(card)
    } catch (error) {
      this.#failed(error)
      return
    }
    const typed = keptTyped(this.#shelf)
    if (typed) {
      this.#steps.add(this.#typed(), 'all that was typed before')
      this.#takeUp(typed)
      this.takenUp = true
      if (typed.revision !== this.#revision) this.done = 'The files of the call were changed after this was typed: look it through before it is saved.'
    }
    await this.#ask()
  }

  /** Give the card to the new call it is for, or begin one with it, and go there. */
  async give(): Promise<void> {
    try {
      const key = this.gathering || (await beginGathering()).gathering
      await giveCard(key, this.data())
      keepTyped(`new.${key}`, this.#typed())
      if (this.gathering === '') keepTyped(this.#shelf, null)
      location.assign(reader.address(`?new=${key}`))
    } catch (error) {
      this.#failed(error)
    }
  }

  /** Write the card into the call it was taken from. */
  async save(): Promise<void> {
    const sent = this.#typed()
    try {
      this.#revision = (await writeCard(this.call, this.#revision, this.data())).revision
      this.#steps.clear()
      this.takenUp = false
      const typed = this.#typed()
      const same = JSON.stringify({ ...typed, revision: '' }) === JSON.stringify({ ...sent, revision: '' })
      if (!same) this.#steps.add(sent, 'what was typed while saving')
      keepTyped(this.#shelf, same ? null : typed)
      this.done = same ? 'Saved into the call; what was there before stays among its versions.' : 'Saved, but for what was typed meanwhile.'
    } catch (error) {
      this.#failed(error)
    }
  }

  undo(): void {
    const step = this.#steps.undo(this.#typed())
    if (step) this.#became(step.state, `Undone: ${step.words}.`)
  }

  redo(): void {
    const step = this.#steps.redo(this.#typed())
    if (step) this.#became(step.state, `Done again: ${step.words}.`)
  }

  #became(typed: Typed, done: string): void {
    this.#takeUp(typed)
    this.done = done
    this.changed()
  }

  #typed(): Typed {
    return { ...$state.snapshot({ values: this.values, counts: this.counts, own: this.own, feet: this.feet }), revision: this.#revision }
  }

  #takeUp(typed: Typed): void {
    this.groups = withLoose(this.groups, itemsIn(Object.keys(typed.values)))
    this.values = { ...typed.values }
    this.counts = { ...typed.counts }
    this.own = { ...typed.own }
    this.feet = { ...typed.feet }
  }

  get #shelf(): string {
    return this.gathering === '' ? this.call : `new.${this.gathering}`
  }

  /** Set another card beside this one, or none. */
  besideOf(name: string | null): void {
    this.beside = name
    this.#address('beside', name)
    this.changed()
  }

  #address(key: string, value: string | null): void {
    const query = new URLSearchParams(location.search)
    if (value === null) query.delete(key)
    else query.set(key, value)
    history.replaceState(null, '', `?${query.toString()}`)
  }

  type(id: string, text: string, unit = ''): void {
    this.#steps.add(this.#typed(), `${id.split('.').at(-1)?.replaceAll('_', ' ')} typed`, id)
    this.values[id] = this.#metres(id, text, unit)
    this.changed()
  }

  /** What the card keeps of what was typed: metres, where a length is typed in feet. */
  #metres(id: string, text: string, unit: string): string {
    delete this.feet[id]
    if (!this.inFeet(unit)) return text
    const metres = metresOf(text)
    if (metres === null) return text
    this.feet[id] = text
    return metres
  }

  /** Whether what has this unit is typed in feet. */
  inFeet(unit: string): boolean {
    return unit === 'm' && reader.lengths === 'feet'
  }

  /** A value as it stands in its field: in feet as typed, or worked out of the metres kept. */
  shown(id: string, kept: string, unit: string): string {
    if (!this.inFeet(unit)) return kept
    const typed = this.feet[id]
    return typed !== undefined && metresOf(typed) === kept ? typed : inFeet(kept)
  }

  /** Begin to overrule a figure; nothing changes until something is typed. */
  overrule(key: string): void {
    this.own[key] ??= ''
  }

  typeOwn(key: string, text: string, unit = ''): void {
    this.#steps.add(this.#typed(), 'own figure typed', `own ${key}`)
    this.own[key] = this.#metres(`own.${key}`, text, unit)
    this.changed()
  }

  takeBack(key: string): void {
    const typed = this.own[key]?.trim()
    if (typed) this.#steps.add(this.#typed(), 'own figure taken back')
    delete this.own[key]
    if (typed) this.changed()
  }

  changed(): void {
    this.waiting = true
    keepTyped(this.#shelf, this.undoable === null ? null : this.#typed())
    clearTimeout(this.#timer)
    this.#timer = setTimeout(() => void this.#ask(), PAUSE)
  }

  rows(group: CardGroupShape): string[] {
    if (group.rows.length > 0) return group.rows
    return Array.from({ length: this.counts[group.table.join('.')] ?? 0 }, (_, index) => String(index))
  }

  /** A field for an item checked aboard that the form does not name; its key. */
  addItem(name: string): string | null {
    const item = name.trim().toLowerCase().replace(/[^a-z0-9]+/g, '_').replace(/^_+|_+$/g, '')
    if (item === '') return null
    this.groups = withLoose(this.groups, { equipment: { [item]: '' } })
    return `equipment.${item}`
  }

  add(group: CardGroupShape): void {
    const table = group.table.join('.')
    this.#steps.add(this.#typed(), `${group.title.toLowerCase()}: one added`)
    this.counts[table] = (this.counts[table] ?? 0) + 1
    this.changed()
  }

  /** Take a row out; those below move up. */
  remove(group: CardGroupShape, row: number): void {
    const table = group.table.join('.')
    this.#steps.add(this.#typed(), `${group.title.toLowerCase()}: one taken out`)
    const last = (this.counts[table] ?? 1) - 1
    for (const field of group.fields) {
      for (let index = row; index < last; index++) {
        this.values[idOf(group, field, String(index))] = this.values[idOf(group, field, String(index + 1))] ?? ''
      }
      delete this.values[idOf(group, field, String(last))]
    }
    this.counts[table] = last
    this.changed()
  }

  /** What was found that speaks of this field, notes left out; of a row's field: of its row. */
  about(group: CardGroupShape, name: string): Told[] {
    const heavy = this.told.filter((one) => one.finding.grade !== 'note')
    return heavy.filter((one) => {
      const named = one.finding.place.split(', ')
      return group.table.length === 0 ? named.includes(name) : named.includes(group.name) && (name === '' || named.includes(name))
    })
  }

  /** The figure computation takes where the card says nothing. */
  taken(group: CardGroupShape, field: CardFieldShape): CardFigureShape | null {
    if (group.table.length > 0 || field.path.length > 2 || field.path.at(-1)?.endsWith('_imperial')) return null
    const figure = this.figures.get(field.name)
    return figure && figure.origin !== 'given' && !this.values[idOf(group, field)]?.trim() ? figure : null
  }

  /** The first field that a name in a finding means. */
  idNamed(name: string): string | null {
    for (const group of this.groups) {
      if (group.table.length > 0) {
        const [row] = this.rows(group)
        const [field] = group.fields
        if (group.rows.includes(name) && field) return idOf(group, field, name)
        if (group.name === name && field && row !== undefined) return idOf(group, field, row)
      } else {
        const field = group.fields.find((one) => one.name === name)
        if (field) return idOf(group, field)
      }
    }
    return null
  }

  /** The card as typed, in the shape of ship.toml. */
  data(): Table {
    const card: Table = { loading: {}, engine: { order: [] } }
    this.#orders = []
    for (const group of this.groups) {
      if (group.table.length === 0) {
        for (const field of group.fields) put(card, field.path, read(field, this.values[idOf(group, field)] ?? ''))
        continue
      }
      const rows: Table[] = []
      for (const row of this.rows(group)) {
        const made: Table = {}
        for (const field of group.fields) put(made, field.path, read(field, this.values[idOf(group, field, row)] ?? ''))
        if (group.rows.length === 0) rows.push(made)
        else if (Object.keys(made).length > 0) {
          rows.push({ order: row, ...made })
          this.#orders.push(row)
        }
      }
      if (rows.length > 0) put(card, group.table, rows)
    }
    const own = Object.entries(this.own).filter(([, text]) => text.trim() !== '')
    if (own.length > 0) card.own_figures = { ...Object.fromEntries(own.map(([key, text]) => [key, numberOf(text.trim()) ?? text])), ...this.#sourcesOf(own.map(([key]) => key)) }
    return card
  }

  /** The words on where own figures come from, of those that are still there. */
  #sourcesOf(keys: string[]): Table {
    const kept = Object.entries((this.#ownSources ?? {}) as Table).filter(([key]) => keys.includes(key))
    return kept.length > 0 ? { sources: Object.fromEntries(kept) } : {}
  }

  async #ask(): Promise<void> {
    const asked = ++this.#asked
    const data = this.data()
    try {
      const [answer, two] = await Promise.all([checkCard(data), this.#askBeside(data)])
      if (asked !== this.#asked) return
      this.two = two
      this.answer = answer
      if (answer.faults.length === 0) this.seen = answer
      this.trouble = []
    } catch (error) {
      if (asked !== this.#asked) return
      this.#failed(error)
    }
    this.waiting = false
  }

  /** Null where nothing is set beside, or the card cannot be read as it is typed: its faults are told anyhow. */
  async #askBeside(data: Table): Promise<CardsBeside | null> {
    if (this.beside === null) return null
    try {
      return await setBeside(data, this.beside === '' ? null : (await callCard(this.beside)).card)
    } catch (error) {
      if (error instanceof Refused && error.faults.some((fault) => fault.field.startsWith('one.'))) return null
      throw error
    }
  }

  #failed(error: unknown): void {
    this.waiting = false
    this.answer = null
    this.trouble = error instanceof Refused ? error.faults : [{ file: '', line: null, field: '', problem: String(error) }]
  }

  #fill(card: Table): void {
    const { sources, ...own } = (card.own_figures ?? {}) as Table
    this.#ownSources = sources
    this.own = Object.fromEntries(Object.entries(own).map(([key, value]) => [key, written(value)]))
    for (const group of this.groups) {
      if (group.table.length === 0) {
        for (const field of group.fields) this.#take(idOf(group, field), at(card, field.path))
        continue
      }
      const rows = at(card, group.table)
      if (!Array.isArray(rows)) continue
      if (group.rows.length === 0) this.counts[group.table.join('.')] = rows.length
      rows.forEach((row: Table, index) => {
        const name = group.rows.length === 0 ? String(index) : String(row.order)
        for (const field of group.fields) this.#take(idOf(group, field, name), at(row, field.path))
      })
    }
  }

  #take(id: string, value: unknown): void {
    if (value !== undefined) this.values[id] = written(value)
  }

  /** The field's id for the server's path: rows of orders are counted there and named here. */
  #named(path: string): string {
    const found = /^engine\.order\.(\d+)(.*)$/.exec(path)
    return found ? `engine.order.${this.#orders[Number(found[1])] ?? ''}${found[2] ?? ''}` : path
  }
}

export const card = new Card()
