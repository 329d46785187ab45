import type { Db } from '#db/open'
import { overlayKey } from '#db/schema/index'
import type { Instant } from '#kernel/instant'

export const readDigest = (db: Db): { digest: string; madeAt: Instant } | null =>
  db.select({ digest: overlayKey.digest, madeAt: overlayKey.madeAt }).from(overlayKey).get() ?? null

export function replaceDigest(db: Db, row: { digest: string; madeAt: Instant; byPersonId: string }): void {
  db.insert(overlayKey)
    .values({ id: 1, ...row })
    .onConflictDoUpdate({ target: overlayKey.id, set: row })
    .run()
}
