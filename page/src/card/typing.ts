// What is typed into the card's form, and what the file has for it. What does not fit is sent as it is: the server says why.
import type { CardFieldShape } from '../contract'

const NUMBER = /^[-+]?(\d+\.?\d*|\.\d+)$/
const GROUPED = /^[-+]?\d{1,3}(,\d{3})+$/ // 10,400 may be ten or ten thousand: never guessed

export function read(field: CardFieldShape, text: string): unknown {
  const typed = text.trim()
  if (typed === '') return undefined
  switch (field.kind) {
    case 'number':
    case 'count':
      return numberOf(typed) ?? typed
    case 'yes':
      return typed === 'yes'
    case 'pair': {
      for (const between of [/\s*(?:to|;|\s)\s*/, /\s*[–-]\s*/]) {
        const parts = typed.split(between).map(numberOf)
        if (parts.length > 1 && !parts.includes(null)) return parts
      }
      return typed
    }
    case 'lines':
      return typed.split(/\s*\n\s*/)
    default:
      return typed
  }
}

export function numberOf(text: string): number | null {
  const plain = text.replace('−', '-')
  if (GROUPED.test(plain)) return null
  const point = plain.replace(',', '.')
  return NUMBER.test(point) ? Number(point) : null
}

export function written(value: unknown): string {
  if (typeof value === 'boolean') return value ? 'yes' : 'no'
  if (Array.isArray(value)) return value.every((one) => typeof one === 'number') ? value.join(' to ') : value.join('\n')
  return String(value)
}
