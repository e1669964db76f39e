// Positions as people write them: 31°33.25'S, 31 33.25 S, 31°33'15"S, -31.554105.
const WRITTEN = /^\s*([-+−]?\d+(?:[.,]\d+)?)\s*(?:[°\s]\s*(\d+(?:[.,]\d+)?)\s*(?:['′\s]\s*(?:(\d+(?:[.,]\d+)?)\s*["″]?)?)?)?\s*°?\s*([NSEW])?\s*$/i

/** Degrees, north and east positive; the text itself where it is no position, for the server to say what was expected. */
export function degreesOf(text: string): number | string {
  const found = WRITTEN.exec(text)
  if (!found) return text.trim()
  const [degrees, minutes, seconds] = [found[1], found[2], found[3]].map((part) => Number((part ?? '0').replace(',', '.').replace('−', '-')))
  if (degrees === undefined || minutes === undefined || seconds === undefined || minutes >= 60 || seconds >= 60) return text.trim()
  const letter = found[4]?.toUpperCase()
  if (letter !== undefined && degrees < 0) return text.trim() // south twice over: which was meant is not guessed
  const size = Math.abs(degrees) + minutes / 60 + seconds / 3600
  const south = letter === 'S' || letter === 'W' || /^\s*[-−]/.test(text)
  return Number((south ? -size : size).toFixed(7))
}

/** Degrees and minutes to the thousandth, as charts are read. */
export function inMinutes(degrees: number, letters: string): string {
  const thousandths = Math.round(Math.abs(degrees) * 60_000)
  const minutes = ((thousandths % 60_000) / 1000).toFixed(3).padStart(6, '0')
  return `${Math.floor(thousandths / 60_000)}°${minutes}′${degrees < 0 ? letters[1] : letters[0]}`
}
