// Rows of a table in another order, kept in the address as `table.column` or `table.column-`.
export type Keys<Row> = Record<string, (row: Row) => number | string>

/** The part of the address's `order` that concerns one table: column, and whether downwards. */
export function wanted(order: string, table: string): { column: string; down: boolean } | null {
  const found = order.split(',').find((one) => one.startsWith(`${table}.`))
  if (!found) return null
  const column = found.slice(table.length + 1)
  return { column: column.replace(/-$/, ''), down: column.endsWith('-') }
}

/** What `order` becomes when a column's head is pressed: upwards, then downwards, then as it came. */
export function pressed(order: string, table: string, column: string): string {
  const now = wanted(order, table)
  const others = order.split(',').filter((one) => one !== '' && !one.startsWith(`${table}.`))
  if (now?.column !== column) return [...others, `${table}.${column}`].join(',')
  return now.down ? others.join(',') : [...others, `${table}.${column}-`].join(',')
}

export function sorted<Row>(rows: Row[], keys: Keys<Row>, order: string, table: string): Row[] {
  const now = wanted(order, table)
  const key = now && keys[now.column]
  if (!now || !key) return rows
  const sign = now.down ? -1 : 1
  return rows.toSorted((a, b) => {
    const [x, y] = [key(a), key(b)]
    return sign * (typeof x === 'string' || typeof y === 'string' ? String(x).localeCompare(String(y)) : x - y)
  })
}
