// The only door to the server: every request of the page is made here.
import type { Assessment, CallList, Fault, Faults } from './contract'

/** The server's own words for why it has no answer. */
export class Refused extends Error {
  constructor(readonly faults: Fault[]) {
    super(faults.map((fault) => fault.problem).join('; '))
  }
}

async function get<Reply>(path: string, signal?: AbortSignal): Promise<Reply> {
  let response: Response
  try {
    response = await fetch(`/api/v1${path}`, { signal, headers: { Accept: 'application/json' } })
  } catch (error) {
    if (error instanceof DOMException && error.name === 'AbortError') throw error
    throw new Refused([
      {
        file: '',
        line: null,
        field: '',
        problem: 'The server on this machine does not answer. Start it again with: leadsman serve. Nothing here is lost.',
      },
    ])
  }
  const reply: unknown = await response.json()
  if (!response.ok) throw new Refused((reply as Faults).errors)
  return reply as Reply
}

export async function listCalls(): Promise<string[]> {
  return (await get<CallList>('/calls')).calls
}

export function assess(call: string, start: string | null, signal?: AbortSignal): Promise<Assessment> {
  const query = start === null ? '' : `?start=${encodeURIComponent(start)}`
  return get<Assessment>(`/calls/${encodeURIComponent(call)}/assessment${query}`, signal)
}
