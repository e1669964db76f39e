// The chart drawn upon: hairlines and small words under everything, and nothing of it computed with.
import Feature from 'ol/Feature'
import GeoJSON from 'ol/format/GeoJSON'
import CircleStyle from 'ol/style/Circle'
import Fill from 'ol/style/Fill'
import Stroke from 'ol/style/Stroke'
import Style from 'ol/style/Style'
import Text from 'ol/style/Text'
import { ask } from '../api'
import { number } from '../lib/format'
import { inks, SANS } from '../lib/ink'
import type { Plane } from './plane'

const CLOSE = 8 // metres a pixel from which marks have their names

export async function readUnderlay(call: string): Promise<object> {
  return (await ask('GET /calls/{call}/underlay', { path: { call } })) as object
}

export async function layUnder(call: string, cell: File): Promise<void> {
  await ask('PUT /calls/{call}/underlay/{name}', { path: { call, name: cell.name }, body: cell })
}

/** The chart's features on the plane. */
export function underlayOn(plane: Plane, collection: object): Feature[] {
  const features = new GeoJSON().readFeatures(collection)
  for (const feature of features) {
    feature.getGeometry()?.applyTransform((from, to = from, stride = 2) => {
      for (let i = 0; i < from.length; i += stride) {
        const [x, y] = plane.toPlane([from[i + 1] ?? 0, from[i] ?? 0])
        to[i] = y
        to[i + 1] = x
      }
      return to
    })
    feature.setStyle(styled)
  }
  return features
}

function styled(feature: unknown, resolution: number): Style[] {
  const one = feature as Feature
  const colours = inks()
  const { kind, label, depth_m: depth } = one.getProperties() as { kind: string; label: string; depth_m: number | null }
  const land = one.get('class') === 'LNDARE'
  const line = new Stroke({ color: kind === 'line' ? colours.soft : colours.rule, width: kind === 'line' ? 1.2 : 0.9 })
  const words = (text: string) => new Text({ text, font: `italic 12px ${SANS}`, offsetY: kind === 'area' ? 0 : 11, fill: new Fill({ color: colours.soft }), stroke: new Stroke({ color: colours.wash, width: 3 }) })
  const small = new CircleStyle({ declutterMode: 'none', radius: kind === 'danger' ? 3.4 : 2, stroke: new Stroke({ color: kind === 'danger' ? colours.alarm : colours.soft, width: 1.1 }) })
  const text = kind === 'area' ? (depth === null || land ? '' : number(depth, 1)) : resolution < CLOSE ? label : ''
  return [
    new Style({ stroke: line, image: small, ...(land ? { fill: new Fill({ color: colours.rule }) } : {}), ...(text === '' ? {} : { text: words(text) }) }),
  ]
}
