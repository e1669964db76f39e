// The only door to the server: every request of the page is made here.
import type {
  Assessment,
  CallList,
  CallRecord,
  CardForm,
  CardsBeside,
  CheckedCard,
  Document,
  Fault,
  Faults,
  Gathering,
  NewEntry,
  ShipCard,
  SourceList,
  WorkStanding,
  WhatIf,
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

/** There was no answer at all: what was asked may be asked again. */
export class Unreachable extends Refused {}

export function get<Reply>(path: string): Promise<Reply> {
  return ask<Reply>(path, { headers: { Accept: 'application/json' } })
}

export function post<Reply>(path: string, body: unknown): Promise<Reply> {
  const headers = { Accept: 'application/json', 'Content-Type': 'application/json' }
  return ask<Reply>(path, { method: 'POST', headers, body: JSON.stringify(body) })
}

export async function ask<Reply>(path: string, how: RequestInit): Promise<Reply> {
  let response: Response
  let reply: unknown
  try {
    response = await fetch(`/api/v1${path}`, how)
    reply = await response.json()
  } catch {
    throw new Unreachable([
      {
        file: '',
        line: null,
        field: '',
        problem: 'The server on this machine does not answer. Start it again with: leadsman serve. Nothing here is lost.',
      },
    ])
  }
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

/** One place with what the query changes. */
export function whatIf(call: string, query: string): Promise<WhatIf> {
  return get<WhatIf>(`/calls/${encodeURIComponent(call)}/holding?${query}`)
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

/** Begin a new call: files and answers are gathered under its key. */
export function beginGathering(): Promise<Gathering> {
  return post<Gathering>('/gatherings', {})
}

export function giveCard(gathering: string, card: Record<string, unknown>): Promise<Gathering> {
  const headers = { Accept: 'application/json', 'Content-Type': 'application/json' }
  return ask<Gathering>(`/gatherings/${gathering}/card`, { method: 'PUT', headers, body: JSON.stringify(card) })
}

export function callRecord(call: string): Promise<CallRecord> {
  return get<CallRecord>(`/calls/${encodeURIComponent(call)}/record`)
}

export function addEntry(call: string, said: NewEntry): Promise<CallRecord> {
  return post<CallRecord>(`/calls/${encodeURIComponent(call)}/record`, said)
}

/** Two cards side by side; without another, the same ship in her other condition. */
export function setBeside(one: Record<string, unknown>, other: Record<string, unknown> | null): Promise<CardsBeside> {
  return post<CardsBeside>('/card/beside', { one, other })
}

export function workStanding(call: string, kind: string): Promise<WorkStanding> {
  return get<WorkStanding>(`/calls/${encodeURIComponent(call)}/long-work/${kind}`)
}

export function beginWork(call: string, kind: string, options: Record<string, unknown>): Promise<WorkStanding> {
  return post<WorkStanding>(`/calls/${encodeURIComponent(call)}/long-work/${kind}`, options)
}

export function stopWork(call: string, kind: string): Promise<WorkStanding> {
  const how = { method: 'DELETE', headers: { Accept: 'application/json' } }
  return ask<WorkStanding>(`/calls/${encodeURIComponent(call)}/long-work/${kind}`, how)
}

export function workAnswer<Reply>(call: string, kind: string): Promise<Reply> {
  return get<Reply>(`/calls/${encodeURIComponent(call)}/long-work/${kind}/answer`)
}
