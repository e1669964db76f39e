// What the board asks of the server: the files of a call, read, tried, written and gone back to. What is written is a change
// of the revision read before: the server refuses it with 409 if the files are others by now.
import { ask } from '../api'
import type { CallFields, CallFiles, SaidOfParts } from '../contract'

type Parts = Record<string, unknown>

export function callFields(): Promise<CallFields> {
  return ask('GET /files/form', {})
}

export async function revisionOf(call: string): Promise<string> {
  return (await ask('GET /calls/{call}/revision', { path: { call } })).revision
}

export function readFiles(call: string): Promise<CallFiles> {
  return ask('GET /calls/{call}/files', { path: { call } })
}

export function checkFiles(call: string, parts: Parts): Promise<SaidOfParts> {
  return ask('POST /calls/{call}/files/check', { path: { call }, body: { parts } })
}

export function writeFiles(call: string, revision: string, parts: Parts, words: string, unfinished: boolean): Promise<CallFiles> {
  return ask('PUT /calls/{call}/files', { path: { call }, query: { unfinished }, headers: tagged(revision), body: { parts, words } })
}

export function restoreFiles(call: string, revision: string, wanted: string): Promise<CallFiles> {
  return ask('POST /calls/{call}/files/restore', { path: { call }, headers: tagged(revision), body: { revision: wanted } })
}

function tagged(revision: string): { 'If-Match': string } {
  return { 'If-Match': `"${revision}"` }
}
