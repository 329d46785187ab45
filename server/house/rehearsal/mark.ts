import type { IncomingMessage, ServerResponse } from 'node:http'
import { nonceOf } from '#doors/web/headers'
import type { FastClock } from './fast-clock'

const CLOCK = '/rehearsal/clock'

/**
 * What every page of a rehearsal carries, whoever made it: a mark that needs no script, and a clock that runs as fast as the
 * house's, set before anything of the page's own asks for the time.
 */
const markOf = (
  clock: FastClock,
  nonce: string,
): string => `<style id="rehearsal-mark" nonce="${nonce}">${styleOf('REHEARSAL: nothing here is real')}</style><script nonce="${nonce}">(() => {
  let at = ${clock.now()}, since = performance.now(), pace = ${clock.pace()}
  Date.now = () => Math.floor(at + (performance.now() - since) * pace)
  globalThis.tagstripPace = pace
  const style = document.getElementById('rehearsal-mark')
  const plain = style.textContent
  const look = async () => {
    try {
      const told = await (await fetch('${CLOCK}', { cache: 'no-store' })).json()
      if (told.pace !== pace || Math.abs(told.now - Date.now()) > 500 * told.pace) { at = told.now; since = performance.now(); pace = told.pace; globalThis.tagstripPace = pace }
      style.textContent = plain.replace(/content:"[^"]*"/, 'content:' + JSON.stringify('REHEARSAL ' + pace + '×' + (told.news ? ': ' + told.news : '')))
    } catch { style.textContent = plain }
  }
  look()
  setInterval(look, 1000)
})()</script>`

const styleOf = (words: string): string =>
  `body::before{content:"${words}";position:fixed;z-index:2147483647;top:0;left:50%;transform:translateX(-50%);max-width:92vw;overflow:hidden;text-overflow:ellipsis;white-space:nowrap;padding:2px 14px;border-radius:0 0 4px 4px;background:#f2b632;color:#1b1300;font:700 14px/1.6 sans-serif;pointer-events:none}`

/** Answers the clock that marked pages ask for; true when that was what was asked. */
export function answerClock(request: IncomingMessage, response: ServerResponse, clock: FastClock, news: () => string): boolean {
  if (request.url?.split('?')[0] !== CLOCK) return false
  response.writeHead(200, { 'content-type': 'application/json', 'cache-control': 'no-store' })
  response.end(JSON.stringify({ now: clock.now(), pace: clock.pace(), news: news() }))
  return true
}

/** Puts the mark into whatever page this response will be. */
export function markPage(request: IncomingMessage, response: ServerResponse, clock: FastClock): void {
  // What is compressed cannot be marked.
  delete request.headers['accept-encoding']
  const nonce = nonceOf(request)
  const write = response.write.bind(response) as (chunk: unknown, ...rest: unknown[]) => boolean
  const end = response.end.bind(response) as (chunk?: unknown, ...rest: unknown[]) => ServerResponse
  const writeHead = response.writeHead.bind(response) as (...parts: unknown[]) => ServerResponse
  let isMarked = false
  const isPage = () => String(response.getHeader('content-type') ?? '').startsWith('text/html')
  const marked = (chunk: unknown): unknown => {
    if (isMarked || !isPage() || (typeof chunk !== 'string' && !(chunk instanceof Uint8Array))) return chunk
    const text = typeof chunk === 'string' ? chunk : Buffer.from(chunk).toString('utf8')
    const head = text.indexOf('<head>')
    if (head < 0) return chunk
    isMarked = true
    const after = head + '<head>'.length
    return text.slice(0, after) + markOf(clock, nonce) + text.slice(after)
  }
  response.writeHead = ((...parts: unknown[]) => {
    if (isPage()) response.removeHeader('content-length')
    return writeHead(...parts)
  }) as typeof response.writeHead
  response.write = ((chunk: unknown, ...rest: unknown[]) => write(marked(chunk), ...rest)) as typeof response.write
  response.end = ((chunk?: unknown, ...rest: unknown[]) => {
    if (!response.headersSent && isPage()) response.removeHeader('content-length')
    return end(marked(chunk), ...rest)
  }) as typeof response.end
}
