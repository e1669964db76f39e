// A drawing not saved yet, kept in this browser until it is: a reload, a crash or a server that went away loses nothing.
import type { Parts } from './parts'

interface Draft {
  /** The revision of the files it was begun with. */
  revision: string
  parts: Parts
  words: string
}

const key = (call: string) => `leadsman.drawing.${call}`

export function keepDraft(call: string, draft: Draft | null): void {
  try {
    if (draft) localStorage.setItem(key(call), JSON.stringify(draft))
    else localStorage.removeItem(key(call))
  } catch {
    localStorage.removeItem(key(call)) // larger than the browser keeps: leaving the page is then asked about
  }
}

export function keptDraft(call: string): Draft | null {
  try {
    return JSON.parse(localStorage.getItem(key(call)) ?? 'null') as Draft | null
  } catch {
    return null
  }
}
