// The only door to the server: every request of the page is made here.
import type { Assessment, CallList, Document, Fault, Faults, SourceList } from './contract'

/** The server's own words for why it has no answer. */
export class Refused extends Error {
  constructor(readonly faults: Fault[]) {
    super(faults.map((fault) => fault.problem).join('; '))
  }
}

async function get<Reply>(path: string): Promise<Reply> {
  let response: Response
  try {
    response = await fetch(`/api/v1${path}`, { headers: { Accept: 'application/json' } })
  } catch {
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

export async function listSources(): Promise<Record<string, Document>> {
  return (await get<SourceList>('/sources')).sources
}

export function assess(call: string, start: string | null): Promise<Assessment> {
  const query = start === null ? '' : `?start=${encodeURIComponent(start)}`
  return get<Assessment>(`/calls/${encodeURIComponent(call)}/assessment${query}`)
}
