// What the types must refuse: `npm run check` fails where one of these lines is no error. It is no part of the page.
import { ask } from './api'

export const wrong = [
  // @ts-expect-error: there is no such address
  () => ask('GET /call', {}),
  // @ts-expect-error: no such method there
  () => ask('DELETE /calls', {}),
  // @ts-expect-error: the path lacks its call
  () => ask('GET /calls/{call}/assessment', { query: { start: null } }),
  // @ts-expect-error: nothing of this name can be asked
  () => ask('GET /calls/{call}/assessment', { path: { call: 'x' }, query: { begin: 'now' } }),
  // @ts-expect-error: no such kind of work
  () => ask('GET /calls/{call}/long-work/{kind}', { path: { call: 'x', kind: 'dream' } }),
  // @ts-expect-error: the body is another
  () => ask('PUT /gatherings/{key}/answers', { path: { key: 'x' }, body: { answer: {} } }),
  // @ts-expect-error: the answer is no list
  async (): Promise<string[]> => ask('GET /calls', {}),
]
