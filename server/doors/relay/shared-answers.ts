import type { IncomingMessage, ServerResponse } from 'node:http'
import { hasIt, packingFor } from '../pages/packing.rules'
import type { HandOn } from './hand-on'
import { type Kept, openKept } from './kept'
import { endToEnd, isOfAddress, shareable, sharedKey } from './shared.rules'

const MOST_OF_ONE = 8 * 1024 * 1024
/** Of what may be kept for a minute at most, the house is asked again when something happened, but, unless it is a page, not more often than this. */
const QUIET_MS = 100
const SHORT_MS = 60_000
/** While the house cannot be reached, what is older is given out for so long (RFC 5861); the stream says that the house is away. */
const IN_NEED_MS = 60_000
/** An address that may not be shared is not waited for by others for so long. */
const ALONE_MS = 10_000
const MOST_ALONE = 2_000

export interface SharedAnswers {
  /** Answers from what is kept, asking the house once however many want the same; or hands the request on. */
  answer(request: IncomingMessage, response: ServerResponse): Promise<void>
}

/** A shared cache by RFC 9111, for readers who are nobody in particular. */
export function openSharedAnswers({ handOn, standing }: { handOn: HandOn; standing(): { seq: number; build: string } }): SharedAnswers {
  const kept = openKept(IN_NEED_MS)
  const underWay = new Map<string, Promise<Kept | null>>()
  const alone = new Map<string, number>()

  const standAlone = (key: string) => {
    kept.forget(key)
    alone.delete(key)
    alone.set(key, performance.now() + ALONE_MS)
    for (const oldest of alone.keys()) {
      if (alone.size <= MOST_ALONE) break
      alone.delete(oldest)
    }
  }
  const isFresh = (one: Kept): boolean => {
    const age = performance.now() - one.at
    const { seq, build } = standing()
    if (one.build !== build) return false
    return age < one.freshMs && (one.isImmutable || one.freshMs > SHORT_MS || one.seq === seq || (age < QUIET_MS && !isPage(one)))
  }

  /** Frames go out as they come, and no page may be older than one: the house, which keeps pages too, says whether it is still so. */
  const isPage = ({ headers }: Kept): boolean => headers['content-type']?.startsWith('text/html') ?? false

  const give = (request: IncomingMessage, response: ServerResponse, { headers, body, at }: Kept) => {
    const age = { age: String(Math.floor((performance.now() - at) / 1000)) }
    if (hasIt(request.headers['if-none-match'], headers.etag)) {
      const { 'content-length': _, 'content-type': __, ...rest } = headers
      response.writeHead(304, { ...rest, ...age }).end()
      return
    }
    response.writeHead(200, { ...headers, ...age, 'content-length': body.byteLength })
    response.end(request.method === 'HEAD' ? undefined : body)
  }

  /** Asks the house. Resolves with what may be shared; otherwise the answer went to `response`, and with null. */
  const fetchFor = async (key: string, request: IncomingMessage, response: ServerResponse): Promise<Kept | null> => {
    const before = kept.get(key)
    const { seq, build } = standing()
    const at = performance.now()
    const isSame = before?.build === build
    const answer = await handOn.ask(request, {
      'accept-encoding': packingFor(request.headers['accept-encoding']),
      'if-none-match': isSame ? before?.headers.etag : undefined,
      'if-modified-since': undefined,
    })
    const headers = endToEnd(answer.headers)
    if (answer.statusCode === 304 && before) {
      answer.resume()
      const again = { ...before, ...(shareable(200, { ...before.headers, ...headers }) ?? { freshMs: 0 }), at, seq }
      kept.set(key, again)
      return again
    }
    const may = shareable(answer.statusCode ?? 0, answer.headers)
    const size = Number(answer.headers['content-length'] ?? 0)
    if (!may || size > MOST_OF_ONE) {
      if (isOfAddress(answer.statusCode ?? 0)) standAlone(key)
      response.once('close', () => answer.destroy())
      response.writeHead(answer.statusCode ?? 502, headers)
      answer.once('error', () => response.destroy())
      answer.pipe(response)
      return null
    }
    const parts: Buffer[] = []
    for await (const part of answer as AsyncIterable<Buffer>) parts.push(part)
    if (!answer.complete) throw new Error('the answer of the house broke off')
    const one: Kept = { ...may, headers, body: Buffer.concat(parts), at, seq, build }
    kept.set(key, one)
    return one
  }

  const answer = async (request: IncomingMessage, response: ServerResponse): Promise<void> => {
    const key = sharedKey(request.method ?? '', request.url ?? '', request.headers)
    if (key === null || (alone.get(key) ?? 0) > performance.now()) return handOn.pass(request, response)
    const found = kept.get(key)
    if (found && isFresh(found)) return give(request, response, found)
    const waiting = underWay.get(key)
    try {
      // Its answer is none that another could be given.
      if (request.method === 'HEAD') return await handOn.pass(request, response)
      if (waiting) {
        const { seq } = standing()
        const shared = await waiting
        // It was asked for before something happened that this reader may have been told of.
        if (shared && isPage(shared) && shared.seq < seq) return await answer(request, response)
        return shared ? give(request, response, shared) : await handOn.pass(request, response)
      }
      const asked = fetchFor(key, request, response).finally(() => underWay.delete(key))
      underWay.set(key, asked)
      const mine = await asked
      if (mine) give(request, response, mine)
    } catch (reason) {
      if (response.headersSent) response.destroy()
      else if (found && performance.now() - found.at < found.freshMs + IN_NEED_MS) give(request, response, found)
      else throw reason
    }
  }

  return { answer }
}
