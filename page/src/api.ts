// The only door to the server: every request of the page is made here.
import type {
  Assessment,
  CallFields,
  CallFiles,
  CallList,
  CardForm,
  CheckedCard,
  Document,
  Fault,
  Faults,
  SaidOfParts,
  ShipCard,
  SourceList,
} from './contract'

/** The server's own words for why it has no answer. */
export class Refused extends Error {
  constructor(
    readonly faults: Fault[],
    readonly status = 0,
  ) {
    super(faults.map((fault) => fault.problem).join('; '))
  }
}

function get<Reply>(path: string): Promise<Reply> {
  return ask<Reply>(path, { headers: { Accept: 'application/json' } })
}

function post<Reply>(path: string, body: unknown): Promise<Reply> {
  const headers = { Accept: 'application/json', 'Content-Type': 'application/json' }
  return ask<Reply>(path, { method: 'POST', headers, body: JSON.stringify(body) })
}

async function ask<Reply>(path: string, how: RequestInit): Promise<Reply> {
  let response: Response
  try {
    response = await fetch(`/api/v1${path}`, how)
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
  if (!response.ok) throw new Refused((reply as Faults).errors, response.status)
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

export function cardForm(): Promise<CardForm> {
  return get<CardForm>('/card/form')
}

export async function callCard(call: string): Promise<Record<string, unknown>> {
  return (await get<ShipCard>(`/calls/${encodeURIComponent(call)}/card`)).card
}

export function checkCard(card: Record<string, unknown>): Promise<CheckedCard> {
  return post<CheckedCard>('/card', card)
}

function filesOf(call: string): string {
  return `/calls/${encodeURIComponent(call)}/files`
}

/** Written as a change of the revision read before: the server refuses it with 409 if the files are others by now. */
function change<Reply>(method: string, path: string, revision: string, body: unknown): Promise<Reply> {
  const headers = { Accept: 'application/json', 'Content-Type': 'application/json', 'If-Match': `"${revision}"` }
  return ask<Reply>(path, { method, headers, body: JSON.stringify(body) })
}

export function callFields(): Promise<CallFields> {
  return get<CallFields>('/files/form')
}

export function readFiles(call: string): Promise<CallFiles> {
  return get<CallFiles>(filesOf(call))
}

export function checkFiles(call: string, parts: object): Promise<SaidOfParts> {
  return post<SaidOfParts>(`${filesOf(call)}/check`, { parts })
}

export function writeFiles(call: string, revision: string, parts: object, words: string, unfinished: boolean): Promise<CallFiles> {
  return change<CallFiles>('PUT', `${filesOf(call)}${unfinished ? '?unfinished=true' : ''}`, revision, { parts, words })
}

export function restoreFiles(call: string, revision: string, wanted: string): Promise<CallFiles> {
  return change<CallFiles>('POST', `${filesOf(call)}/restore`, revision, { revision: wanted })
}
