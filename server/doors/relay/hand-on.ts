import { Agent, request as ask, type IncomingMessage, type ServerResponse } from 'node:http'
import { request as askSecurely, Agent as SecureAgent } from 'node:https'
import { refuse } from '../web/refuse'
import { endToEnd, framingOf } from './shared.rules'

/** Lines to the house that stay open, so that a bid does not wait for a new one. */
const MOST_LINES = 512
const CONNECT_MS = 5_000

export const NOT_REACHED = 'The house cannot be reached just now. Nothing was accepted; try again in a few seconds.'

/** These bring no body, and none is handed on with them. */
const isRead = ({ method }: IncomingMessage): boolean => method === 'GET' || method === 'HEAD'

export interface HandOn {
  /** Asks the house the same, with other headers if need be; the answer comes as its head is there. */
  ask(request: IncomingMessage, headers?: Record<string, string | undefined>): Promise<IncomingMessage>
  /** Hands a request on whole and its answer back, both as they come. */
  pass(request: IncomingMessage, response: ServerResponse): Promise<void>
  close(): void
}

/** What the house is asked in somebody's place: it is told for whom, and believes the last of that header. */
export function openHandOn({ url, addressOf }: { url(): string | null; addressOf(request: IncomingMessage): string }): HandOn {
  const plain = new Agent({ keepAlive: true, maxSockets: MOST_LINES })
  const secure = new SecureAgent({ keepAlive: true, maxSockets: MOST_LINES })

  const begin = (request: IncomingMessage, others: Record<string, string | undefined>, withBody: boolean) => {
    const house = url()
    if (house === null) throw new Error('the house was not heard yet')
    const { forwarded: _, 'x-real-ip': __, 'content-length': ___, ...headers } = endToEnd(request.headers)
    // Node marks no end by itself of what is sent with a reading method: sent without, the house would read it as the next request.
    const framing = withBody ? framingOf(request.headers) : {}
    const hasBody = Object.keys(framing).length > 0
    const wanted = Object.fromEntries(
      Object.entries({ ...headers, 'x-forwarded-for': addressOf(request), ...others, ...framing }).filter(
        ([, value]) => value !== undefined,
      ),
    )
    const { protocol, hostname, port } = new URL(house)
    const isSecure = protocol === 'https:'
    const asked = (isSecure ? askSecurely : ask)({
      hostname,
      port,
      path: request.url,
      method: request.method,
      headers: wanted,
      agent: isSecure ? secure : plain,
    })
    const timer = setTimeout(() => asked.destroy(new Error('the house does not answer')), CONNECT_MS)
    asked.once('socket', (socket) => {
      if (!socket.connecting) clearTimeout(timer)
      else socket.once('connect', () => clearTimeout(timer))
    })
    asked.once('close', () => clearTimeout(timer))
    const answered = new Promise<IncomingMessage>((resolve, reject) => {
      asked.once('response', resolve)
      asked.on('error', reject)
    })
    if (hasBody) request.pipe(asked)
    else asked.end()
    return { asked, answered }
  }

  return {
    ask: async (request, headers = {}) => begin(request, headers, false).answered,
    async pass(request, response) {
      const { asked, answered } = begin(request, {}, !isRead(request))
      response.once('close', () => asked.destroy())
      try {
        const answer = await answered
        response.writeHead(answer.statusCode ?? 502, endToEnd(answer.headers))
        answer.once('error', () => response.destroy())
        answer.once('aborted', () => response.destroy())
        // A stream's first words are its head alone.
        response.flushHeaders()
        answer.pipe(response)
      } catch (reason) {
        request.unpipe(asked)
        if (response.headersSent || response.destroyed) response.destroy()
        else throw reason
      }
    },
    close() {
      plain.destroy()
      secure.destroy()
    },
  }
}

/** To whoever asked for something that only the house can answer. */
export const sayNotReached = (response: ServerResponse): boolean => refuse(response.setHeader('retry-after', '3'), 502, NOT_REACHED)
