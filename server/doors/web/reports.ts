import type { IncomingMessage, ServerResponse } from 'node:http'
import { Refusal } from '#kernel/refusal'
import type { FloodLimit } from '#runtime/call/flood'
import { type Bodies, type BodyLimit, MOST_CALL_BYTES } from './bodies'
import type { OpenHouse } from './open-house'
import { refuse } from './refuse'

const LIMIT: FloodLimit = { name: 'report', each: 10, all: 60, perMinutes: 10, words: 'Many reports came.' }
const SIZE: BodyLimit = { mostBytes: MOST_CALL_BYTES, tooLarge: new Refusal('too-large', 'A report may have 16 kB at most.') }
/** Of one body no more are read. */
const MOST = 5

/** What a report says, as the log has it: anybody may send one, so each word is short and plain, and no address stands in it whole. */
export interface Violation {
  directive: string
  blocked: string
  page: string
}

/** POST: what a policy kept a browser from, in either of the two forms in which browsers tell it. It is logged, and nothing else. */
export async function takeReport(
  house: OpenHouse,
  request: IncomingMessage,
  response: ServerResponse,
  { bodies, address }: { bodies: Bodies; address: string },
): Promise<void> {
  if (house.floods.admit(LIMIT, address, house.clock.now()) !== null) {
    refuse(response, 429, LIMIT.words)
    return
  }
  const text = (await bodies.read(request, address, SIZE)).toString('utf8')
  for (const violation of violationsIn(text))
    house.log.warn({ event: 'policy', ...violation }, 'a browser was kept from something by the policy')
  response.writeHead(204, { 'cache-control': 'no-store' }).end()
}

/** CSP level 2 sends `{"csp-report": {…}}`, the Reporting API a list of `{"type": "csp-violation", "body": {…}}`. */
export function violationsIn(text: string): Violation[] {
  const told = parsed(text)
  const bodies = Array.isArray(told)
    ? told.slice(0, MOST).flatMap((one) => (field(one, 'type') === 'csp-violation' ? [field(one, 'body')] : []))
    : [field(told, 'csp-report')]
  return bodies.flatMap((body) => {
    const directive = word(field(body, 'effectiveDirective') ?? field(body, 'effective-directive') ?? field(body, 'violated-directive'))
    const blocked = whence(field(body, 'blockedURL') ?? field(body, 'blocked-uri'))
    const page = placeIn(field(body, 'documentURL') ?? field(body, 'document-uri'))
    return directive === '' ? [] : [{ directive, blocked, page }]
  })
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return null
  }
}

const field = (of: unknown, name: string): unknown =>
  typeof of === 'object' && of !== null && Object.hasOwn(of, name) ? (of as Record<string, unknown>)[name] : undefined

const word = (told: unknown): string => (typeof told === 'string' ? (/^[a-z-]{1,40}/.exec(told)?.[0] ?? '') : '')

/** `inline`, `eval` and the like; of an address its origin alone. */
const whence = (told: unknown): string =>
  typeof told !== 'string' || told.length > 2000 ? '' : URL.canParse(told) ? new URL(told).origin.slice(0, 100) : word(told)

/** The first two parts of the page's path: which page it was, and nothing that its address may carry. */
const placeIn = (told: unknown): string =>
  typeof told === 'string' && told.length <= 2000 && URL.canParse(told)
    ? new URL(told).pathname.split('/').slice(0, 3).join('/').slice(0, 60)
    : ''
