// What was done and can be undone and done again: the state before each step, with words for it.
const MOST = 200 // steps kept

interface Step<State> {
  state: State
  words: string
  /** Steps in a row of one group, such as letters typed into one field, are one. */
  group: string
}

export class Steps<State> {
  #done = $state.raw<Step<State>[]>([])
  #undone = $state.raw<Step<State>[]>([])

  undoable = $derived(this.#done.at(-1)?.words ?? null)
  redoable = $derived(this.#undone.at(-1)?.words ?? null)

  /** Something is done: `before` is the state it began with. */
  add(before: State, words: string, group = ''): void {
    const last = this.#done.at(-1)
    this.#undone = []
    if (group !== '' && last?.group === group) return
    this.#done = [...this.#done.slice(1 - MOST), { state: before, words, group }]
  }

  /** The step undone, its state to be taken; null where there is none. */
  undo(now: State): Step<State> | null {
    const step = this.#done.at(-1)
    if (!step) return null
    this.#done = this.#done.slice(0, -1)
    this.#undone = [...this.#undone, { ...step, state: now }]
    return step
  }

  redo(now: State): Step<State> | null {
    const step = this.#undone.at(-1)
    if (!step) return null
    this.#undone = this.#undone.slice(0, -1)
    this.#done = [...this.#done, { ...step, state: now, group: '' }]
    return step
  }

  /** The words of every step that still stands, the oldest first. */
  words(): string[] {
    return this.#done.map((step) => step.words)
  }

  clear(): void {
    this.#done = []
    this.#undone = []
  }
}

/** Whether a key undoes or does again. */
export function stepWanted(event: KeyboardEvent): 'undo' | 'redo' | null {
  if (!(event.ctrlKey || event.metaKey) || event.altKey) return null
  const key = event.key.toLowerCase()
  if (key === 'z') return event.shiftKey ? 'redo' : 'undo'
  return key === 'y' ? 'redo' : null
}
