import { createHash, timingSafeEqual } from 'node:crypto'
import type { IncomingMessage, ServerResponse } from 'node:http'
import { writeFigures } from '#runtime/vitals/open-metrics'
import type { OpenHouse } from './open-house'
import { refuse } from './refuse'

/**
 * What a stranger may know of how the house is: whether it is well, how long ago things happened, and in general words why
 * it is not ready. How much room or memory is left would tell somebody who attacks it how far they have come: that is behind
 * the key, and on the maker's page.
 */
const AGES = { write: 'write-age', tick: 'tick-age', letter: 'letter-age', copy: 'copy-age', copyElsewhere: 'elsewhere-age' }
/** Where the copy lies, and what its place said, is for the staff. */
const NO_COPY_ELSEWHERE = 'The copy elsewhere is not kept as it should be. The staff’s pages and the log say why.'

const whole = (seconds: number | null | undefined): number | null => (seconds == null ? null : Math.round(seconds))

const tell = (response: ServerResponse, status: number, body: unknown) =>
  response.writeHead(status, { 'content-type': 'application/json', 'cache-control': 'no-store' }).end(JSON.stringify(body))

/** Alive: answered at once from what was looked at last. */
export function answerHealth(house: OpenHouse, response: ServerResponse): void {
  const trouble = house.trouble()
  const ages = Object.fromEntries(Object.entries(AGES).map(([name, key]) => [name, whole(house.vitals.find(key)?.value)]))
  const now = new Date(house.clock.now()).toISOString()
  const copyElsewhere = house.vitals.find('elsewhere-age')?.standing === 'bad' ? NO_COPY_ELSEWHERE : null
  tell(response, trouble === null ? 200 : 503, { ok: trouble === null, trouble, now, watching: house.hub.watching(), ages, copyElsewhere })
}

/** Ready: it can do for people what it is there for; and if not, why, without a figure. */
export function answerReady(house: OpenHouse, response: ServerResponse): void {
  const reasons = house.vitals
    .list()
    .flatMap(({ standing, whenNotReady, isReadyStill = false }) =>
      standing === 'bad' && whenNotReady !== null && !isReadyStill ? [whenNotReady] : [],
    )
  tell(response, reasons.length === 0 ? 200 : 503, { ready: reasons.length === 0, reasons })
}

/** The figures, for whoever has the key; without a key there is no such address. */
export async function answerFigures(
  house: OpenHouse,
  request: IncomingMessage,
  response: ServerResponse,
  key: string | undefined,
): Promise<void> {
  if (key === undefined) {
    refuse(response, 404, 'There is nothing here.')
    return
  }
  if (!isKey(request.headers.authorization, key)) {
    refuse(response.setHeader('www-authenticate', 'Bearer'), 401, 'This needs the key to the figures, as a bearer token.')
    return
  }
  const { type, body } = await writeFigures(house.vitals.list())
  response.writeHead(200, { 'content-type': type, 'cache-control': 'no-store' }).end(body)
}

/** Compared by their digests, so that the time it takes tells nothing of where they part, nor of their length. */
function isKey(said: string | undefined, key: string): boolean {
  const digest = (text: string) => createHash('sha256').update(text).digest()
  const [, token = ''] = /^Bearer ([^ ]+)$/i.exec(said ?? '') ?? []
  return timingSafeEqual(digest(token), digest(key))
}
