import { createHash, randomBytes } from 'node:crypto'
import { IncomingMessage, ServerResponse } from 'node:http'
import { Socket } from 'node:net'
import { hashInlineScripts } from './inline-scripts.rules'
import type { MadePage } from './made-page'
import { packed } from './pack'
import { pagePolicy } from './page-policy.rules'

type Handler = (request: IncomingMessage, response: ServerResponse) => Promise<void>

/** What a page's program writes, gathered; it goes to nobody. */
class GatheredResponse extends ServerResponse {
  readonly parts: Buffer[] = []
  readonly whole: Promise<void>
  private over: () => void = () => {}
  private isOver = false

  constructor(request: IncomingMessage) {
    super(request)
    this.whole = new Promise((resolve) => {
      this.over = resolve
    })
    Object.defineProperty(this, 'writableEnded', { get: () => this.isOver })
  }

  override writeHead(status: number, ...rest: unknown[]): this {
    this.statusCode = status
    const headers = rest.find((one) => typeof one === 'object' && one !== null)
    for (const [name, value] of Object.entries(headers ?? {})) this.setHeader(name, value as string)
    return this
  }

  override flushHeaders(): void {}

  override write(chunk: unknown, ...rest: unknown[]): boolean {
    this.gather(chunk, rest)
    return true
  }

  override end(...words: unknown[]): this {
    if (this.isOver) return this
    const [chunk, ...rest] = words
    this.isOver = true
    if (typeof chunk === 'function') this.gather(undefined, [chunk])
    else this.gather(chunk, rest)
    this.over()
    queueMicrotask(() => {
      this.emit('finish')
      this.emit('close')
    })
    return this
  }

  private gather(chunk: unknown, rest: unknown[]): void {
    if (typeof chunk === 'string') this.parts.push(Buffer.from(chunk))
    else if (chunk instanceof Uint8Array) this.parts.push(Buffer.from(chunk))
    const done = rest.find((one) => typeof one === 'function')
    if (done) queueMicrotask(done as () => void)
  }
}

/** An address at which nothing hangs, whoever asks. */
const NOWHERE = '/nothing/hangs/here'

/** What the framework sends where a page found nothing to show: its words come with the program alone. */
const isWithoutWords = (html: string): boolean => html.includes('<html id="__next_error__">')

interface Wishes {
  path: string
  publicUrl: string
  player: string | null
}

/**
 * Makes a page as nobody in particular sees it: whoever asked for it has no part in the request that its program is given. It is
 * made under a word of its own as every page is, and the word taken out. That nothing is there is said in the page itself.
 */
export async function makePage(pages: Handler, { path, publicUrl, player }: Wishes): Promise<MadePage | null> {
  const word = randomBytes(16).toString('base64')
  const request = new IncomingMessage(new Socket())
  Object.assign(request, { method: 'GET', url: path, httpVersion: '1.1', httpVersionMajor: 1, httpVersionMinor: 1 })
  request.headers = {
    host: new URL(publicUrl).host,
    'content-security-policy': pagePolicy({ scripts: [`nonce-${word}`], styles: [`nonce-${word}`], player }),
  }
  request.push(null)
  const response = new GatheredResponse(request)
  await Promise.all([pages(request, response), response.whole])
  const { statusCode: status } = response
  const type = String(response.getHeader('content-type') ?? '')
  if ((status !== 200 && status !== 404) || !type.startsWith('text/html') || response.hasHeader('set-cookie')) return null
  const written = Buffer.concat(response.parts).toString('utf8')
  if (status === 404 && path !== NOWHERE && isWithoutWords(written)) return makePage(pages, { path: NOWHERE, publicUrl, player })
  const { html, scripts, styles } = hashInlineScripts(written, word)
  const identity = Buffer.from(html)
  const [br, zipped] = await Promise.all([packed(identity, 'br'), packed(identity, 'gzip')])
  const etag = createHash('sha256').update(identity).digest('base64url').slice(0, 27)
  return { status, type, policy: pagePolicy({ scripts, styles, player }), etag, bodies: { br, gzip: zipped, identity } }
}
