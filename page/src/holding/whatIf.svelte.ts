// What the sliders ask: one place with other wind, stream, tugs, or something out of order. Nothing of it is kept.
import { whatIf } from '../api'
import type { HoldingShape, WhatIf } from '../contract'
import { stamp } from '../lib/format'
import { reader } from '../lib/reader.svelte'
import { sheet } from '../sheet.svelte'

const KNOT = 1852 / 3600 // m/s
const DEGREE = Math.PI / 180

/** What can be moved, in the units people say it in. */
export interface Asked {
  wind: number
  windFrom: number
  stream: number
  streamTowards: number
  tugs: number
  out: string[]
}

class Question {
  key = $state('')
  /** Null: as the forecast and the orders have it. */
  asked = $state<Asked | null>(null)
  answer = $state.raw<WhatIf | null>(null)
  fault = $state('')

  #busy = false
  #last = ''

  constructor() {
    reader.changed(() => {
      this.#last = ''
      void this.ask()
    })
  }

  choose(key: string): void {
    this.key = key
    this.forget()
  }

  /** Back to how it is. */
  forget(): void {
    this.asked = null
    this.answer = null
    this.fault = ''
    this.#last = ''
  }

  move(holding: HoldingShape, change: Partial<Asked>): void {
    this.asked = { ...(this.asked ?? asItIs(holding, this.key)), ...change }
    void this.ask()
  }

  /** Ask for what is wanted now; of questions that come meanwhile only the last is asked. */
  async ask(): Promise<void> {
    if (this.#busy || this.asked === null || sheet.call === null) return
    this.#busy = true
    let wanted = this.#query()
    while (wanted !== '' && wanted !== this.#last) {
      this.#last = wanted
      try {
        const found = await whatIf(sheet.call, wanted)
        if (this.asked !== null) this.answer = found
        this.fault = ''
      } catch (error) {
        this.fault = String(error instanceof Error ? error.message : error)
      }
      wanted = this.#query()
    }
    this.#busy = false
  }

  #query(): string {
    if (this.asked === null) return ''
    const query = new URLSearchParams({
      place: this.key,
      wind_speed_kn: String(this.asked.wind),
      wind_from_deg: String(this.asked.windFrom),
      stream_rate_kn: String(this.asked.stream),
      stream_towards_deg: String(this.asked.streamTowards),
      tugs: String(this.asked.tugs),
    })
    if (sheet.start !== null) query.set('start', stamp(sheet.start))
    for (const name of this.asked.out) query.append('out_of_order', name)
    return query.toString()
  }
}

/** How it is at a place, as the sliders show it. */
export function asItIs(holding: HoldingShape, key: string): Asked {
  const place = holding.places.find((one) => one.key === key)
  if (!place) return { wind: 0, windFrom: 0, stream: 0, streamTowards: 0, tugs: 0, out: [] }
  return {
    wind: Math.round(place.wind.value / KNOT),
    windFrom: Math.round(place.wind_from.value / DEGREE) % 360,
    stream: Math.round((place.stream.value / KNOT) * 10) / 10,
    streamTowards: Math.round(place.stream_towards.value / DEGREE) % 360,
    tugs: place.tugs.length,
    out: [],
  }
}

export const question = new Question()
