// The inks of the drawings, read from the look in force, and the one scale of ink: much water to spare leaves the paper
// bare, little water is ruled closely, too little is ruled both ways, and where there is no water the ink is solid.

export interface Inks {
  paper: string
  wash: string
  ink: string
  soft: string
  rule: string
  faint: string
  water: string
  alarm: string
  mark: string
  /** Where there is no water for her: the last step of the scale. */
  none: string
}

export function inks(): Inks {
  const style = getComputedStyle(document.documentElement)
  const read = (name: string) => style.getPropertyValue(`--${name}`).trim()
  return {
    paper: read('paper'),
    wash: read('wash'),
    ink: read('ink'),
    soft: read('ink-soft'),
    rule: read('rule'),
    faint: read('rule-faint'),
    water: read('water'),
    alarm: read('alarm'),
    mark: read('mark'),
    none: read('none'),
  }
}

export const SANS = "'Source Sans 3', 'Liberation Sans', sans-serif"
export const SERIF = "'Libertinus Serif', 'Liberation Serif', serif"

/** The drawings wait for the letters they are set in. */
export async function lettersReady(): Promise<void> {
  await Promise.all([document.fonts.load(`12px ${SANS}`), document.fonts.load(`italic 13px ${SERIF}`)])
}

/** Metres above what is required, from which on the paper stays bare. A choice of drawing, not a limit of anything. */
export const AMPLE = 2

export type Tint = 'bare' | 'ruled' | 'short' | 'none'

/** How water is drawn by its room [m] and what is required there [m]. Unknown room is drawn as none. */
export function tint(room: number | null, required: number): Tint {
  if (room === null || room <= 0) return 'none'
  if (room < required) return 'short'
  return room < required + AMPLE ? 'ruled' : 'bare'
}

/** The share of the paper that ruled water covers: from a hair to half. */
export function cover(room: number, required: number): number {
  const spare = Math.min(Math.max((room - required) / AMPLE, 0), 1)
  return 0.08 + 0.42 * (1 - spare) ** 1.3
}

export type Hatch = 'earth' | 'closed' | 'stipple' | 'motion' | 'short'

const tiles = new Map<string, CanvasPattern>()

/** A ruled or stippled filling, as an engraver would lay it. */
export function hatch(context: CanvasRenderingContext2D, kind: Hatch, colour: string): CanvasPattern | string {
  const scale = devicePixelRatio
  const key = `${kind} ${colour} ${scale}`
  const known = tiles.get(key)
  if (known) return known
  const size = { earth: 7, closed: 5, stipple: 5, motion: 4, short: 4 }[kind]
  const tile = document.createElement('canvas')
  tile.width = tile.height = Math.round(size * scale)
  const pen = tile.getContext('2d')
  if (!pen) return colour
  pen.scale(tile.width / size, tile.height / size)
  pen.strokeStyle = pen.fillStyle = colour
  const line = (x1: number, y1: number, x2: number, y2: number, width: number) => {
    pen.lineWidth = width
    pen.beginPath()
    pen.moveTo(x1, y1)
    pen.lineTo(x2, y2)
    pen.stroke()
  }
  const slant = (width: number) => {
    for (const shift of [-size, 0, size]) line(shift - 1, size + 1, shift + size + 1, -1, width)
  }
  if (kind === 'earth' || kind === 'closed') slant(kind === 'earth' ? 0.9 : 0.8)
  else if (kind === 'motion') line(0, size / 2, size, size / 2, 0.9)
  else if (kind === 'short') {
    line(0, size / 2, size, size / 2, 1.3)
    line(size / 2, 0, size / 2, size, 1.3)
  } else {
    pen.fillRect(0.5, 0.5, 1, 1)
    pen.fillRect(3, 3, 1, 1)
  }
  const pattern = context.createPattern(tile, 'repeat')
  if (!pattern) return colour
  tiles.set(key, pattern)
  return pattern
}
