// The shape of a card's form: where each field stands on the card, and fields for what the form has no line for.
import type { CardFieldShape, CardGroupShape } from '../contract'

export type Table = Record<string, unknown>

/** A field's own name on the page: its path on the card. */
export function idOf(group: CardGroupShape, field: CardFieldShape, row = ''): string {
  return [...group.table, ...(row === '' ? [] : [row]), ...field.path].join('.')
}

/** The form with a field for every item checked aboard that stands on this card under a name of its own. */
export function withLoose(groups: CardGroupShape[], card: Table): CardGroupShape[] {
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

/** The items checked aboard among fields, as a card has them. */
export function itemsIn(ids: string[]): Table {
  const card: Table = {}
  for (const id of ids) {
    const [table, item] = id.split('.')
    if (table && item && /^equipment/.test(table)) put(card, [table, item], '')
  }
  return card
}

export function at(card: Table, path: string[]): unknown {
  return path.reduce<unknown>((inner, key) => (inner as Table | undefined)?.[key], card)
}

export function put(card: Table, path: string[], value: unknown): void {
  if (value === undefined) return
  let inner = card
  for (const key of path.slice(0, -1)) inner = (inner[key] ??= {}) as Table
  const last = path.at(-1)
  if (last !== undefined) inner[last] = value
}
