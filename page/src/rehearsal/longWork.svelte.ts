// One piece of long work at the server: begun, looked at until it ends, stopped; its answer when there is one.
import { beginWork, type Kind, Refused, stopWork, workAnswer, workStanding } from '../api'
import type { WorkStanding } from '../contract'
import { reader } from '../lib/reader.svelte'

const LOOK_AGAIN = 900 // ms

export class LongWork<Reply> {
  standing = $state.raw<WorkStanding | null>(null)
  found = $state.raw<Reply | null>(null)
  trouble = $state('')

  constructor(
    readonly call: string,
    readonly kind: Kind,
  ) {
    reader.changed(() => {
      if (this.found) void this.look()
    })
  }

  get running(): boolean {
    return this.standing?.state === 'running'
  }

  async look(): Promise<void> {
    await this.#tried(async () => {
      this.standing = await workStanding(this.call, this.kind)
      while (this.running) {
        await new Promise((resolve) => setTimeout(resolve, LOOK_AGAIN))
        this.standing = await workStanding(this.call, this.kind)
      }
      this.found = this.standing.state === 'done' ? await workAnswer<Reply>(this.call, this.kind) : null
    })
  }

  async begin(options: Record<string, unknown>): Promise<void> {
    await this.#tried(async () => {
      this.standing = await beginWork(this.call, this.kind, options)
      await this.look()
    })
  }

  async stop(): Promise<void> {
    await this.#tried(async () => {
      this.standing = await stopWork(this.call, this.kind)
    })
  }

  async #tried(what: () => Promise<void>): Promise<void> {
    try {
      this.trouble = ''
      await what()
    } catch (error) {
      this.trouble = error instanceof Refused ? error.message : String(error)
    }
  }
}
