// Lengths typed in feet by a reader of feet. The card keeps metres, to the millimetre; what was typed is shown as it was.
import { numberOf } from './typing'

const FOOT = 0.3048 // m, exact (international foot, 1959)
const FEET_AND_INCHES = /^([-+−]?)(\d+)\s*(?:ft|feet|'|′)\s*(?:(\d+(?:[.,]\d+)?)\s*(?:in|inches|"|″)?)?$/

/** Metres as the card keeps them, of feet such as `20.5`, `20 ft`, `20 ft 6 in` or `20' 6"`; null where it is none of these. */
export function metresOf(text: string): string | null {
  const typed = text.trim()
  const plain = numberOf(typed)
  if (plain !== null) return kept(plain)
  const found = FEET_AND_INCHES.exec(typed)
  if (!found) return null
  const inches = found[3] === undefined ? 0 : numberOf(found[3])
  if (inches === null || inches >= 12) return null
  return kept((found[1] === '-' || found[1] === '−' ? -1 : 1) * (Number(found[2]) + inches / 12))
}

/** Feet of metres as the card keeps them; what is no number stays as it is. */
export function inFeet(metres: string): string {
  const value = numberOf(metres.trim())
  return value === null ? metres : String(Number((value / FOOT).toFixed(2)))
}

function kept(feet: number): string {
  return String(Number((feet * FOOT).toFixed(3)))
}
