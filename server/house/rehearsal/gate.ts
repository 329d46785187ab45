import { createHash } from 'node:crypto'
import type { IncomingMessage, RequestListener, ServerResponse } from 'node:http'
import { readCookie } from '#runtime/call/browser-cookie'
import { holderOf } from './pass'

const COOKIE = 'tagstrip-rehearsal-pass'
const OPEN = '/rehearsal/open'
/** A pass is some 80 characters. */
const MOST_BYTES = 400

/** Brings the pass from behind the # of the address, where no log sees it, and asks again for the page that was wanted. */
const SCRIPT = `(async () => {
  const pass = location.hash.slice(1)
  if (!pass) return
  const answer = await fetch('${OPEN}', { method: 'POST', body: pass })
  if (answer.ok) location.reload()
  else document.getElementById('words').textContent = await answer.text()
})()`
const SCRIPT_HASH = createHash('sha256').update(SCRIPT).digest('base64')

const PAGE = `<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>A rehearsal</title></head><body><main><h1>This is a rehearsal</h1><p id="words" role="status">It opens with the address printed when it started, or the one the rehearsal page in the house gives you, including everything after the #. Open that address in this browser first.</p><noscript><p>It needs JavaScript to read the address.</p></noscript></main><script>${SCRIPT}</script></body></html>`

const HEADERS = {
  'cache-control': 'no-store',
  'content-security-policy': `default-src 'none'; script-src 'sha256-${SCRIPT_HASH}'; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'`,
  'referrer-policy': 'no-referrer',
  'x-content-type-options': 'nosniff',
  'x-robots-tag': 'noindex, nofollow',
}

/** Stands before everything that a rehearsal shows, public or not: whoever has no pass to it sees a page that says so. */
export function openGate({ key, url, inside }: { key: string; url: string; inside: RequestListener }): RequestListener {
  const open = async (request: IncomingMessage, response: ServerResponse) => {
    const pass = await bodyOf(request)
    if (pass === null || !holderOf(key, pass)) {
      const words = 'That address does not open this rehearsal. Ask for the address of the one that is running now.'
      response.writeHead(403, { ...HEADERS, 'content-type': 'text/plain; charset=utf-8' }).end(words)
      return
    }
    const secure = url.startsWith('https:') ? '; Secure' : ''
    response.writeHead(204, { ...HEADERS, 'set-cookie': `${COOKIE}=${pass}; Path=/; HttpOnly; SameSite=Lax; Max-Age=86400${secure}` }).end()
  }
  return (request, response) => {
    if (holderOf(key, readCookie(request.headers.cookie ?? '', COOKIE) ?? '')) inside(request, response)
    else if (request.method === 'POST' && request.url === OPEN) open(request, response).catch(() => response.destroy())
    else {
      request.resume()
      response.writeHead(403, { ...HEADERS, 'content-type': 'text/html; charset=utf-8' }).end(PAGE)
    }
  }
}

/** Null for what is longer than any pass. */
async function bodyOf(request: IncomingMessage): Promise<string | null> {
  const parts: Buffer[] = []
  let bytes = 0
  for await (const part of request as AsyncIterable<Buffer>) {
    bytes += part.byteLength
    if (bytes > MOST_BYTES) return null
    parts.push(part)
  }
  return Buffer.concat(parts).toString('utf8').trim()
}
