// The card's form: what was typed, and what the server says of it. Nothing is kept beyond the page.
import { callCard, cardForm, checkCard, Refused } from '../api'
import type { CardFieldShape, CardFigureShape, CardGroupShape, CheckedCard, Fault, FindingShape } from '../contract'
import { LOOKS, type Look } from '../sheet.svelte'
import { read, written } from './typing'

const PAUSE = 250 // ms without a key before the server is asked

type Table = Record<string, unknown>

export interface Told {
  number: number
  finding: FindingShape
}

class Card {
  /** The port call whose card was taken to begin with; empty: none. */
  call = $state('')
  look = $state<Look>('day')
  groups = $state.raw<CardGroupShape[]>([])
  /** As typed, by the field's id. */
  values = $state<Record<string, string>>({})
  /** The rows of each table whose rows the card does not name. */
  counts = $state<Record<string, number>>({})

  answer = $state.raw<CheckedCard | null>(null)
  trouble = $state.raw<Fault[]>([])
  waiting = $state(false)

  #orders: string[] = []
  #timer: ReturnType<typeof setTimeout> | undefined
  #asked = 0

  /** What cannot be so, by the field's id. */
  faults = $derived.by(() => {
    const found: Record<string, string> = {}
    for (const fault of this.answer?.faults ?? []) found[this.#named(fault.field)] ??= fault.problem
    return found
  })

  told = $derived((this.answer?.findings ?? []).map((finding, index): Told => ({ number: index + 1, finding })))

  figures = $derived(new Map((this.answer?.figures ?? []).map((figure) => [figure.name, figure])))

  count = $derived.by(() => {
    const grades = this.told.map((one) => one.finding.grade)
    const counted = (['stop', 'caution', 'note'] as const).map((grade) => [grade, grades.filter((one) => one === grade).length] as const)
    return counted.filter(([, number]) => number > 0).map(([grade, number]) => `${number} ${grade}${number > 1 ? 's' : ''}`)
  })

  async begin(): Promise<void> {
    const query = new URLSearchParams(location.search)
    this.call = query.get('card') ?? ''
    this.look = LOOKS.find((look) => look === query.get('look')) ?? 'day'
    document.documentElement.dataset.look = this.look
    document.title = 'Ship card · Leadsman'
    try {
      const [form, card] = await Promise.all([cardForm(), this.call === '' ? {} : callCard(this.call)])
      this.groups = withLoose(form.groups, card)
      this.#fill(card)
    } catch (error) {
      this.#failed(error)
      return
    }
    await this.#ask()
  }

  lookBy(look: Look): void {
    this.look = look
    document.documentElement.dataset.look = look
    const query = new URLSearchParams(location.search)
    if (look === 'day') query.delete('look')
    else query.set('look', look)
    history.replaceState(null, '', `?${query.toString()}`)
  }

  type(id: string, text: string): void {
    this.values[id] = text
    this.changed()
  }

  changed(): void {
    this.waiting = true
    clearTimeout(this.#timer)
    this.#timer = setTimeout(() => void this.#ask(), PAUSE)
  }

  rows(group: CardGroupShape): string[] {
    if (group.rows.length > 0) return group.rows
    return Array.from({ length: this.counts[group.table.join('.')] ?? 0 }, (_, index) => String(index))
  }

  add(group: CardGroupShape): void {
    const table = group.table.join('.')
    this.counts[table] = (this.counts[table] ?? 0) + 1
    this.changed()
  }

  /** Take a row out; those below move up. */
  remove(group: CardGroupShape, row: number): void {
    const table = group.table.join('.')
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
    return card
  }

  async #ask(): Promise<void> {
    const asked = ++this.#asked
    const data = this.data()
    try {
      const answer = await checkCard(data)
      if (asked !== this.#asked) return
      this.answer = answer
      this.trouble = []
    } catch (error) {
      if (asked !== this.#asked) return
      this.#failed(error)
    }
    this.waiting = false
  }

  #failed(error: unknown): void {
    this.waiting = false
    this.answer = null
    this.trouble = error instanceof Refused ? error.faults : [{ file: '', line: null, field: '', problem: String(error) }]
  }

  #fill(card: Table): void {
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

/** A field's own name on the page: its path on the card. */
export function idOf(group: CardGroupShape, field: CardFieldShape, row = ''): string {
  return [...group.table, ...(row === '' ? [] : [row]), ...field.path].join('.')
}

/** The form with a field for every item checked aboard that stands on this card under a name of its own. */
function withLoose(groups: CardGroupShape[], card: Table): CardGroupShape[] {
  return groups.map((group) => {
    const like = (table: string) => group.fields.find((field) => field.path[0] === table)
    const more: CardFieldShape[] = []
    for (const table of ['equipment', 'equipment_details']) {
      const model = like(table)
      if (!model) continue
      const known = new Set(group.fields.filter((field) => field.path[0] === table).map((field) => field.path[1]))
      for (const item of Object.keys((card[table] as Table | undefined) ?? {})) {
        const label = item.replaceAll('_', ' ') + (table === 'equipment' ? '' : ', details')
        if (!known.has(item)) more.push({ ...model, path: [table, item], label: label.charAt(0).toUpperCase() + label.slice(1) })
      }
    }
    return more.length === 0 ? group : { ...group, fields: [...group.fields, ...more] }
  })
}

function at(card: Table, path: string[]): unknown {
  return path.reduce<unknown>((inner, key) => (inner as Table | undefined)?.[key], card)
}

function put(card: Table, path: string[], value: unknown): void {
  if (value === undefined) return
  let inner = card
  for (const key of path.slice(0, -1)) inner = (inner[key] ??= {}) as Table
  const last = path.at(-1)
  if (last !== undefined) inner[last] = value
}

export const card = new Card()
