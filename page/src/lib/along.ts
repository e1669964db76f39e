// Finding places along the way: the page shows the stations the server computed, and interpolates none of them.
import type { AccountShape } from '../contract'

/** The station nearest to a distance from the first point. */
export function stationAt(account: AccountShape, distance: number): number {
  return nearest(account.distance, distance)
}

/** The station she is at, or nearest to, at a moment of the passage. */
export function stationWhen(account: AccountShape, time: string): number {
  const first = account.time[0]
  return first === undefined ? 0 : nearest(account.elapsed, (Date.parse(time) - Date.parse(first)) / 1000)
}

/** Whether a moment lies within the passage. */
export function underWay(account: AccountShape, time: string): boolean {
  const [first, last] = [account.time[0], account.time.at(-1)]
  return first !== undefined && last !== undefined && time >= first && time <= last
}

/** Index of the nearest of rising numbers. */
export function nearest(rising: readonly number[], wanted: number): number {
  let low = 0
  let high = rising.length - 1
  while (high - low > 1) {
    const middle = (low + high) >> 1
    if ((rising[middle] ?? 0) <= wanted) low = middle
    else high = middle
  }
  return Math.abs((rising[low] ?? 0) - wanted) <= Math.abs((rising[high] ?? 0) - wanted) ? low : high
}

/** The station of the way nearest to a point [north, east]. */
export function stationNear(account: AccountShape, north: number, east: number): number {
  let best = 0
  let least = Infinity
  account.x.forEach((x, i) => {
    const away = (x - north) ** 2 + ((account.y[i] ?? 0) - east) ** 2
    if (away < least) [least, best] = [away, i]
  })
  return best
}
