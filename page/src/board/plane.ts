// The local plane of a port: transverse Mercator about its origin on WGS 84, x north and y east in metres, by Krüger's
// series to the fifth power of the third flattening, as leadsman/geometry.py lays it. The coefficients are from memory; they
// are held to PROJ within a millimetre, 60 km about the origin (tests/browser/test_board.py).

export type At = readonly [x: number, y: number]
export type Position = readonly [latitude: number, longitude: number]

const RADIUS = 6_378_137 // m, WGS 84
const FLATTENING = 1 / 298.257223563 // WGS 84
const N = FLATTENING / (2 - FLATTENING)
const RECTIFYING = (RADIUS / (1 + N)) * (1 + N ** 2 / 4 + N ** 4 / 64 + N ** 6 / 256) // m
const E = (2 * Math.sqrt(N)) / (1 + N)
const DEGREE = Math.PI / 180

const ALPHA = [
  N / 2 - (2 / 3) * N ** 2 + (5 / 16) * N ** 3 + (41 / 180) * N ** 4 - (127 / 288) * N ** 5,
  (13 / 48) * N ** 2 - (3 / 5) * N ** 3 + (557 / 1440) * N ** 4 + (281 / 630) * N ** 5,
  (61 / 240) * N ** 3 - (103 / 140) * N ** 4 + (15061 / 26880) * N ** 5,
  (49561 / 161280) * N ** 4 - (179 / 168) * N ** 5,
]
const BETA = [
  N / 2 - (2 / 3) * N ** 2 + (37 / 96) * N ** 3 - (1 / 360) * N ** 4 - (81 / 512) * N ** 5,
  (1 / 48) * N ** 2 + (1 / 15) * N ** 3 - (437 / 1440) * N ** 4 + (46 / 105) * N ** 5,
  (17 / 480) * N ** 3 - (37 / 840) * N ** 4 - (209 / 4480) * N ** 5,
  (4397 / 161280) * N ** 4 - (11 / 504) * N ** 5,
]

export class Plane {
  readonly #longitude: number
  readonly #north: number

  constructor([latitude, longitude]: Position) {
    this.#longitude = longitude
    this.#north = 0
    this.#north = this.toPlane([latitude, longitude])[0]
  }

  toPlane([latitude, longitude]: Position): At {
    const away = (((longitude - this.#longitude + 540) % 360) - 180) * DEGREE
    const sine = Math.sin(latitude * DEGREE)
    const t = Math.sinh(Math.atanh(sine) - E * Math.atanh(E * sine))
    const xi = Math.atan2(t, Math.cos(away))
    const eta = Math.atanh(Math.sin(away) / Math.hypot(1, t))
    let [north, east] = [xi, eta]
    ALPHA.forEach((a, i) => {
      const k = 2 * (i + 1)
      north += a * Math.sin(k * xi) * Math.cosh(k * eta)
      east += a * Math.cos(k * xi) * Math.sinh(k * eta)
    })
    return [RECTIFYING * north - this.#north, RECTIFYING * east]
  }

  toEarth([x, y]: At): Position {
    const [xi, eta] = [(x + this.#north) / RECTIFYING, y / RECTIFYING]
    let [north, east] = [xi, eta]
    BETA.forEach((b, i) => {
      const k = 2 * (i + 1)
      north -= b * Math.sin(k * xi) * Math.cosh(k * eta)
      east -= b * Math.cos(k * xi) * Math.sinh(k * eta)
    })
    const conformal = Math.sin(north) / Math.cosh(east)
    const isometric = Math.atanh(conformal)
    let sine = conformal
    for (let turn = 0; turn < 6; turn++) sine = Math.tanh(isometric + E * Math.atanh(E * sine))
    const longitude = this.#longitude + Math.atan2(Math.sinh(east), Math.cos(north)) / DEGREE
    return [Math.asin(sine) / DEGREE, ((longitude + 540) % 360) - 180]
  }
}
