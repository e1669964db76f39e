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
    while (wanted !== null && JSON.stringify(wanted) !== this.#last) {
      this.#last = JSON.stringify(wanted)
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

  #query(): Parameters<typeof whatIf>[1] | null {
    if (this.asked === null) return null
    return {
      place: this.key,
      start: sheet.start === null ? null : stamp(sheet.start),
      wind_speed_kn: this.asked.wind,
      wind_from_deg: this.asked.windFrom,
      stream_rate_kn: this.asked.stream,
      stream_towards_deg: this.asked.streamTowards,
      tugs: this.asked.tugs,
      out_of_order: this.asked.out,
    }
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
