// What is typed into the card's form, kept in this browser: a reload or a server that went away loses nothing.
export interface Typed {
  /** As typed, by the field's id. */
  values: Record<string, string>
  counts: Record<string, number>
  own: Record<string, string>
  /** Lengths that were typed in feet, as typed, by the field's id. */
  feet?: Record<string, string>
  /** The revision of the call's files that it was begun with. */
  revision?: string
}

const key = (shelf: string) => `leadsman.card.${shelf}`

export function keepTyped(shelf: string, typed: Typed | null): void {
  if (typed) localStorage.setItem(key(shelf), JSON.stringify(typed))
  else localStorage.removeItem(key(shelf))
}

export function keptTyped(shelf: string): Typed | null {
  try {
    return JSON.parse(localStorage.getItem(key(shelf)) ?? 'null') as Typed | null
  } catch {
    return null
  }
}
