import type { IncomingMessage, ServerResponse } from 'node:http'
import { addressAsked } from './asked'
import { refuse } from './refuse'

/** What a request asks for, as every door reads it from here on; null where it was refused, since it names no address or nobody. */
export function enter(request: IncomingMessage, response: ServerResponse): URL | null {
  // HTTP/1.1 wants it of every request; it decides nothing here.
  if (request.httpVersion === '1.1' && request.headers.host === undefined) {
    refuse(response, 400, 'A request says whom it asks, in a line that begins with Host.')
    return null
  }
  const url = addressAsked(request.url ?? '/')
  if (!url) {
    refuse(response, 400, 'This is not an address of this house.')
    return null
  }
  // An address written whole, as a proxy may ask, is read by its path.
  request.url = `${url.pathname}${url.search}`
  return url
}
