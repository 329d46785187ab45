import { Agent, request } from 'node:http'

export interface Heard {
  status: number
  text: string
  /** Milliseconds from asking to the whole answer. */
  waited: number
}

export interface Asking {
  method?: 'GET' | 'POST'
  cookie?: string
  body?: string | Buffer
  type?: string
  /** The address that it seems to come from. */
  from?: string
}

export const PUBLIC_URL = 'https://bench.example'

/** Asks a served house as browsers do. `null` is an answer that did not come, or not whole. */
export function openHand(port: number, sockets = 64) {
  const agent = new Agent({ keepAlive: true, maxSockets: sockets })
  /** What each browser was given at its first bid, as browsers keep it. */
  const kept = new Map<string, string>()

  const ask = (path: string, { method = 'GET', cookie = '', body, type = 'application/json', from }: Asking = {}): Promise<Heard | null> =>
    new Promise((resolve) => {
      const sent = performance.now()
      const headers = {
        origin: PUBLIC_URL,
        host: 'bench.example',
        'x-forwarded-for': from ?? '203.0.113.7',
        cookie: [cookie, ...(kept.has(cookie) ? [kept.get(cookie)] : [])].join('; '),
        ...(body !== undefined && { 'content-type': type, 'content-length': Buffer.byteLength(body) }),
      }
      const asked = request({ host: '127.0.0.1', port, path, method, agent, headers }, (answer) => {
        const given = cookie && answer.headers['set-cookie']?.[0]
        if (given) kept.set(cookie, given.split(';')[0] ?? '')
        const parts: Buffer[] = []
        answer.on('data', (part: Buffer) => parts.push(part))
        // A line that broke in the middle of an answer is no answer.
        answer.on('close', () => resolve(null))
        answer.on('error', () => resolve(null))
        answer.on('end', () => {
          if (!answer.complete) resolve(null)
          else resolve({ status: answer.statusCode ?? 0, text: Buffer.concat(parts).toString('utf8'), waited: performance.now() - sent })
        })
      })
      // A line that the house had closed meanwhile says nothing of it: what only reads is asked anew, as browsers do.
      asked.on('error', () => (asked.reusedSocket && method === 'GET' ? ask(path, { cookie, from }).then(resolve) : resolve(null)))
      asked.end(body)
    })

  const command = (procedure: string, input: object, who: Asking = {}) =>
    ask(`/api/trpc/${procedure}`, { ...who, method: 'POST', body: JSON.stringify(input) })
  const query = (procedure: string, input?: object, who: Asking = {}) =>
    ask(`/api/trpc/${procedure}${input === undefined ? '' : `?input=${encodeURIComponent(JSON.stringify(input))}`}`, who)

  return { port, ask, command, query, close: () => agent.destroy() }
}

export type Hand = ReturnType<typeof openHand>

/** What a procedure answered; undefined where it refused or did not answer. */
export const dataOf = <T>(heard: Heard | null): T | undefined =>
  heard?.status === 200 ? (JSON.parse(heard.text) as { result: { data: T } }).result.data : undefined

/** Why it was refused, in the house's words. */
export function wordsOf(heard: Heard | null): string {
  if (!heard) return 'no answer'
  try {
    return (JSON.parse(heard.text) as { error?: { message?: string } }).error?.message ?? heard.text.slice(0, 200)
  } catch {
    return heard.text.slice(0, 200)
  }
}
