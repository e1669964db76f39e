// The start a remedy proposes, brought to a whole minute on the side where it still helps.
import type { RemedyShape } from '../contract'

const MINUTE = 60_000 // ms

export function remedyStart(remedy: RemedyShape): number | null {
  if (remedy.start === null) return null
  const minutes = Date.parse(remedy.start.value) / MINUTE
  return (remedy.kind === 'earlier' ? Math.floor(minutes) : Math.ceil(minutes)) * MINUTE
}
