// The only door to the server: every request of the page is made here, typed by the server's own description of itself.
import { API } from './contract'
import type { Assessment, CallRecord, CardForm, CardsBeside, CheckedCard, Document, Fault, Faults, Gathering, NewEntry, Routes, ShipCard, WhatIf, WorkStanding } from './contract'

import { reader } from './lib/reader.svelte'

/** What is drawn and gathered is told in the files' own units, as it is typed: metres, tonnes, UTC. */
const OF_FILES = /^\/(gatherings|calls\/[^/]+\/(files|texts))/

/** The server's own words for why it has no answer. */
export class Refused extends Error {
  constructor(
    readonly faults: Fault[],
    readonly status = 0,
  ) {
    super(faults.map((fault) => fault.problem).join('; '))
  }
}

/** There was no answer, or the server failed at it and changed nothing: what was asked may be asked again. */
export class Unreachable extends Refused {}

const SILENCE = 'The server on this machine does not answer. Start it again with: leadsman serve. Nothing here is lost.'

type Route = keyof Routes
/** What goes along with a request to an address: parts of its path, query, headers, body. */
export type Asked<R extends Route> = Omit<Routes[R], 'answer'>
export type Answer<R extends Route> = Routes[R]['answer']
export type Kind = Asked<'GET /calls/{call}/long-work/{kind}'>['path']['kind']

interface Anything {
  path?: Record<string, string>
  query?: Record<string, unknown>
  headers?: Record<string, string>
  body?: unknown
}

export async function ask<R extends Route>(route: R, asked: Asked<R>): Promise<Answer<R>> {
  const { path = {}, query = {}, headers = {}, body } = asked as Anything
  const [method = 'GET', pattern = ''] = route.split(' ')
  const address = pattern.replace(/\{(\w+)\}/g, (_, name: string) => encodeURIComponent(path[name] ?? ''))
  const raw = body instanceof Blob
  const kind: Record<string, string> = body === undefined ? {} : { 'Content-Type': raw ? 'application/octet-stream' : 'application/json' }
  const how = { method, headers: { Accept: 'application/json', ...kind, ...headers }, body: raw ? body : JSON.stringify(body) }
  let response: Response
  let reply: unknown
  try {
    const asking = `${API}${address}${asWords(query)}`
    response = await fetch(OF_FILES.test(address) ? asking : reader.address(asking), how)
    reply = response.status === 204 ? null : await response.json()
  } catch {
    throw new Unreachable([{ file: '', line: null, field: '', problem: SILENCE }])
  }
  if (response.status >= 500) throw new Unreachable((reply as Faults).errors, response.status)
  if (!response.ok) throw new Refused((reply as Faults).errors, response.status)
  return reply as Answer<R>
}

/** What is asked for, as the address has it; what is null or undefined is not asked. */
function asWords(query: Record<string, unknown>): string {
  const words = new URLSearchParams()
  for (const [name, value] of Object.entries(query)) {
    for (const one of Array.isArray(value) ? value : [value]) if (one !== null && one !== undefined) words.append(name, String(one))
  }
  return words.size > 0 ? `?${words.toString()}` : ''
}

export async function listCalls(): Promise<string[]> {
  return (await ask('GET /calls', {})).calls
}

export async function listSources(): Promise<Record<string, Document>> {
  return (await ask('GET /sources', {})).sources
}

export function assess(call: string, start: string | null): Promise<Assessment> {
  return ask('GET /calls/{call}/assessment', { path: { call }, query: { start } })
}

/** One place with what the query changes. */
export function whatIf(call: string, query: Asked<'GET /calls/{call}/holding'>['query']): Promise<WhatIf> {
  return ask('GET /calls/{call}/holding', { path: { call }, query })
}

export function cardForm(): Promise<CardForm> {
  return ask('GET /card/form', {})
}

export function callCard(call: string): Promise<ShipCard> {
  return ask('GET /calls/{call}/card', { path: { call } })
}

/** Write the card of a call, begun with a revision of its files; refused with 409 if they are others by now. */
export function writeCard(call: string, revision: string, card: Record<string, unknown>): Promise<ShipCard> {
  return ask('PUT /calls/{call}/card', { path: { call }, headers: { 'If-Match': `"${revision}"` }, body: card })
}

export function checkCard(card: Record<string, unknown>): Promise<CheckedCard> {
  return ask('POST /card', { body: card })
}

/** Begin a new call: files and answers are gathered under its key. */
export function beginGathering(): Promise<Gathering> {
  return ask('POST /gatherings', {})
}

export function giveCard(key: string, card: Record<string, unknown>): Promise<Gathering> {
  return ask('PUT /gatherings/{key}/card', { path: { key }, body: card })
}

export function callRecord(call: string): Promise<CallRecord> {
  return ask('GET /calls/{call}/record', { path: { call } })
}

export function addEntry(call: string, said: NewEntry): Promise<CallRecord> {
  return ask('POST /calls/{call}/record', { path: { call }, body: said })
}

/** Two cards side by side; without another, the same ship in her other condition. */
export function setBeside(one: Record<string, unknown>, other: Record<string, unknown> | null): Promise<CardsBeside> {
  return ask('POST /card/beside', { body: { one, other } })
}

export function workStanding(call: string, kind: Kind): Promise<WorkStanding> {
  return ask('GET /calls/{call}/long-work/{kind}', { path: { call, kind } })
}

export function beginWork(call: string, kind: Kind, options: Record<string, unknown>): Promise<WorkStanding> {
  return ask('POST /calls/{call}/long-work/{kind}', { path: { call, kind }, body: options })
}

export function stopWork(call: string, kind: Kind): Promise<WorkStanding> {
  return ask('DELETE /calls/{call}/long-work/{kind}', { path: { call, kind } })
}

/** What came of long work: each kind has a shape of its own. */
export async function workAnswer<Reply>(call: string, kind: Kind): Promise<Reply> {
  return (await ask('GET /calls/{call}/long-work/{kind}/answer', { path: { call, kind } })) as Reply
}
