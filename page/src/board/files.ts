// What the board asks of the server: the files of a call, read, tried, written and gone back to.
import { ask, get, post } from '../api'
import type { CallFields, CallFiles, SaidOfParts } from '../contract'

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
