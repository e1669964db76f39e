// What a grip does to the drawing when it is taken to a place: the same change by pointer and by arrow key.
import { changed, lonLat, nameOf, placed, ringsOf, rows, thingOf, withRings, type Parts, type Ring } from './parts'
import type { At, Plane } from './plane'
import { radiusAt } from './way'
import { wayIn, type Grip } from './paperThings'

const LEAST_RADIUS = 20 // m, as the file takes it
const LEAST_WIDTH = 5 // m, as the file takes it

/** The parts with a grip taken to a place of the plane. */
export function dragged(parts: Parts, plane: Plane, grip: Grip, at: At): Parts {
  const [kind, first, second] = grip.split(':')
  const index = Number(first)
  const position = plane.toEarth(at)
  switch (kind) {
    case 'radius': {
      const corner = wayIn(parts, plane)?.way.corners[index]
      if (!corner) return parts
      const inside = (at[0] - corner.at[0]) * corner.inward[0] + (at[1] - corner.at[1]) * corner.inward[1]
      const radius = Math.max(Math.round(radiusAt(corner, Math.max(inside, 0)) / 10) * 10, LEAST_RADIUS)
      return changed(parts, 'waypoint', index, { bend_radius_m: Math.min(radius, 20_000) })
    }
    case 'port':
    case 'starboard': {
      const straight = wayIn(parts, plane)?.way.straights[index]
      if (!straight) return parts
      const off = (at[0] - straight.middle[0]) * -Math.sin(straight.course) + (at[1] - straight.middle[1]) * Math.cos(straight.course)
      const width = Math.max(Math.round(kind === 'port' ? -off : off), LEAST_WIDTH)
      return changed(parts, 'reach', index, { [`width_${kind}_m`]: width })
    }
    case 'begin':
    case 'end':
      return changed(parts, 'berth', index, { [kind]: placed(position) })
    case 'diameter': {
      const basin = rows(parts, 'basin')[index]
      if (typeof basin?.latitude !== 'number' || typeof basin.longitude !== 'number') return parts
      const [x, y] = plane.toPlane([basin.latitude, basin.longitude])
      return changed(parts, 'basin', index, { diameter_m: Math.max(Math.round(2 * Math.hypot(at[0] - x, at[1] - y)), 20) })
    }
    default:
      return changed(parts, kind ?? '', index, second === undefined ? placed(position) : {})
  }
}

/** The same for a corner of an area: `corner:ring:index`. */
export function draggedCorner(parts: Parts, plane: Plane, area: number, ring: number, corner: number, at: At): Parts {
  const rings = ringsOf(parts.areas.features[area])
  const moved = rings.map((one, r): Ring => (r === ring ? one.map((old, i) => (i === corner ? lonLat(plane.toEarth(at)) : old)) : one))
  return withRings(parts, area, moved)
}

/** A corner put in after another. */
export function insertedCorner(parts: Parts, area: number, ring: number, after: number, corner: [number, number]): Parts {
  const rings = ringsOf(parts.areas.features[area])
  return withRings(parts, area, rings.map((one, r): Ring => (r === ring ? [...one.slice(0, after + 1), corner, ...one.slice(after + 1)] : one)))
}

export function removedCorner(parts: Parts, area: number, ring: number, corner: number): Parts {
  const rings = ringsOf(parts.areas.features[area])
  const left = rings.map((one, r): Ring => (r === ring ? one.filter((_, i) => i !== corner) : one))
  return withRings(parts, area, left.filter((one, r) => r === 0 || one.length >= 3))
}

/** What was done, for the list of steps. */
export function wordsFor(parts: Parts, thing: string, grip: Grip): string {
  const [kind] = grip.split(':')
  const name = nameOf(parts, thing)
  if (kind === 'radius') return `radius of the bend at ${name}`
  if (kind === 'port' || kind === 'starboard') return `${kind} edge of ${name}`
  if (kind === 'corner' || kind === 'between') return `corner of ${name} moved`
  if (kind === 'diameter') return `diameter of ${name}`
  return `${name} moved`
}

/** Where the thing chosen is, to bring it into view. */
export function whereabouts(parts: Parts, plane: Plane, thing: string): At | null {
  const [table, index] = thingOf(thing)
  if (table === 'reach') return wayIn(parts, plane)?.way.straights[index]?.middle ?? null
  const row = rows(parts, table)[index]
  const at = table === 'berth' ? (row?.begin as { latitude?: unknown; longitude?: unknown } | undefined) : row
  if (table === 'area') {
    const corner = ringsOf(parts.areas.features[index])[0]?.[0]
    return corner ? plane.toPlane([corner[1], corner[0]]) : null
  }
  return typeof at?.latitude === 'number' && typeof at.longitude === 'number' ? plane.toPlane([at.latitude, at.longitude]) : null
}
