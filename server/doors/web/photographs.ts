import type { IncomingMessage, ServerResponse } from 'node:http'
import { count, eq } from 'drizzle-orm'
import { photograph } from '#db/schema/index'
import { Refusal } from '#kernel/refusal'
import { hasBeenSentALot } from '#money/sending/won.service'
import { MOST_PHOTOGRAPH_BYTES } from '#runtime/disk/files'
import type { Sight } from '#runtime/queue/turn'
import type { OpenHouse } from './open-house'
import { streamFile } from './stream-file'
import { type Incoming, takeFile } from './take-file'

/** POST /files/photographs: the body is the picture. For the staff, and for buyers who report a problem; kept on disk before the row that names it. */
export const takePhotograph = (house: OpenHouse, request: IncomingMessage, response: ServerResponse, incoming: Incoming): Promise<void> =>
  takeFile(house, request, response, {
    ...incoming,
    path: '/files/photographs',
    limit: {
      mostBytes: MOST_PHOTOGRAPH_BYTES,
      tooLarge: Refusal.at('photograph', 'A photograph may have 15 MB at most. Take a smaller one.', 'too-large'),
    },
    refuseOthers: refuseOfBuyer,
    keep: async (bytes, byPersonId) => {
      const kept = await house.photographs.keep(bytes)
      await house.queue.run((turn) =>
        turn.db
          .insert(photograph)
          .values({ ...kept, at: turn.now, byPersonId })
          .onConflictDoNothing()
          .run(),
      )
      return kept
    },
  })

/** More than anybody needs to show what is wrong. */
const MOST_OF_A_BUYER = 20

function refuseOfBuyer(sight: Sight, personId: string): void {
  if (!hasBeenSentALot(sight, personId)) throw new Refusal('not-yours-to-do', 'Photographs are added by the staff.')
  const sent = sight.db.select({ many: count() }).from(photograph).where(eq(photograph.byPersonId, personId)).get()?.many ?? 0
  if (sent >= MOST_OF_A_BUYER) throw new Refusal('too-many', `You have sent ${MOST_OF_A_BUYER} photographs. Describe the rest in words.`)
}

/** GET /files/<sha>-<width>.webp; named by content, so it may be kept for ever. */
export function showPhotograph(house: OpenHouse, request: IncomingMessage, path: string, response: ServerResponse): boolean {
  const match = /^\/files\/([0-9a-f]{64})-(\d+)\.webp$/.exec(path)
  const file = match?.[1] && match[2] ? house.photographs.find(match[1], Number(match[2])) : null
  if (!file) return false
  response.writeHead(200, { 'content-type': 'image/webp', 'cache-control': 'public, max-age=31536000, immutable' })
  streamFile(request, response, file)
  return true
}
