import type { IncomingMessage, ServerResponse } from 'node:http'
import type { MadePage } from './made-page'
import { hasIt, PACKINGS, type Packing, packingFor } from './packing.rules'
import { REPORTS } from './page-policy.rules'

/**
 * A browser asks each time whether it is still so, and a proxy may give it to others for a second: to whoever has no cookie of their
 * own, packed as they want it, and as a page and not as the part of one that the pages' own program asks for.
 */
const KEEP = 'public, max-age=0, s-maxage=1, must-revalidate'
const TOLD_APART = 'Cookie, Accept-Encoding, RSC, Next-Router-State-Tree, Next-Router-Prefetch, Next-Router-Segment-Prefetch'

interface Ready {
  etag: string
  had: Record<string, string>
  whole: Record<string, string | number>
  body: Uint8Array
}

/** The heads of a page, written once: most of what an answer takes would be to write them again. */
const ready = new WeakMap<MadePage, Map<Packing, Ready>>()

const readyFor = (page: MadePage, publicUrl: string): Map<Packing, Ready> => {
  const made = new Map(
    PACKINGS.map((packing) => {
      const etag = `"${page.etag}${packing === 'identity' ? '' : `-${packing}`}"`
      const body = page.bodies[packing]
      const isKept = page.status === 200
      const had = {
        ...(isKept && { etag }),
        'cache-control': isKept ? KEEP : 'no-store',
        vary: TOLD_APART,
        'content-security-policy': page.policy,
        'reporting-endpoints': `reports="${publicUrl}${REPORTS}"`,
      }
      const packed: Record<string, string> = packing === 'identity' ? {} : { 'content-encoding': packing }
      return [packing, { etag, had, whole: { ...had, ...packed, 'content-type': page.type, 'content-length': body.byteLength }, body }]
    }),
  )
  ready.set(page, made)
  return made
}

/** Gives a page that was made for everybody to one who asked for it. */
export function givePage(request: IncomingMessage, response: ServerResponse, page: MadePage, publicUrl: string): void {
  const one = (ready.get(page) ?? readyFor(page, publicUrl)).get(packingFor(request.headers['accept-encoding']))
  if (!one) throw new Error('a page is there in every packing')
  if (page.status === 200 && hasIt(request.headers['if-none-match'], one.etag)) {
    response.writeHead(304, one.had).end()
    return
  }
  response.writeHead(page.status, one.whole)
  response.end(request.method === 'HEAD' ? undefined : one.body)
}
