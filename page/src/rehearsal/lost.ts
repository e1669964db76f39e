// What the server says of failures, and where on the plan one of them has no answer.
import type { Assessment } from '../contract'
import { toPixel, type Sheet } from '../drawings/planInk'
import { nearest } from '../lib/along'
import { inks, SANS } from '../lib/ink'

export interface Moment {
  time: number
  distance: number
  danger: string | null
  time_left: number | null
  answered: boolean
  answer: string
  answered_ends: string
}
export interface Place {
  distance: number
  place: string
}
export interface Stretch {
  begin_time: number
  end_time: number
  begin: Place
  end: Place
  answer: string
  answered: boolean
  ends: string
  least_time_left: number | null
}
export interface Failing {
  name: string
  least_time_left: number | null
  no_return: Place[]
  abort: Place[]
  moments: Moment[]
  stretches: Stretch[]
}

export const kindOf = (moment: Moment) => (moment.danger === null ? 'safe' : moment.answered ? 'answered' : 'lost')

/** On the track: a full square where no answer helps, an open ring where one does, a bar at the last places to abort. */
export function drawLost(sheet: Sheet, answer: Assessment, failing: Failing): void {
  const { context } = sheet
  const colours = inks()
  const { account } = answer
  const at = (distance: number) => {
    const station = nearest(account.distance, distance)
    return toPixel(sheet, account.x[station] ?? 0, account.y[station] ?? 0)
  }
  context.setLineDash([])
  for (const moment of failing.moments) {
    const [x, y] = at(moment.distance)
    const kind = kindOf(moment)
    context.beginPath()
    if (kind === 'lost') {
      context.fillStyle = colours.alarm
      context.fillRect(x - 4, y - 4, 8, 8)
    } else if (kind === 'answered') {
      context.strokeStyle = colours.ink
      context.lineWidth = 1.2
      context.arc(x, y, 3.5, 0, 2 * Math.PI)
      context.stroke()
    }
  }
  context.fillStyle = colours.ink
  context.strokeStyle = colours.ink
  context.lineWidth = 2
  context.font = `13px ${SANS}`
  failing.abort.forEach((place, i) => {
    const [x, y] = at(place.distance)
    context.beginPath()
    context.moveTo(x - 10, y)
    context.lineTo(x + 10, y)
    context.stroke()
    if (i === 0) context.fillText('abort by here', x + 13, y + 4)
  })
}
