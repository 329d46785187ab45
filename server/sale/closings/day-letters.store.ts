import type { Db } from '#db/open'
import { preparedFor } from '#db/prepared'
import { summedUp } from '#db/schema/index'
import type { Instant } from '#kernel/instant'
import type { LotState } from '../lots/lots.contract'

export interface ToEnd {
  state: LotState
  closesAt: Instant | null
}

/** Asked after every command, by plain statements as those of a bid are. */
const queries = preparedFor((db) => ({
  notSummedUp: db.$client.prepare<[], { id: string; endedAt: Instant }>(
    `SELECT lot.id, lot.ended_at AS endedAt FROM lot LEFT JOIN summed_up ON summed_up.lot_id = lot.id
     WHERE lot.sold_where = 'here' AND lot.ended_at IS NOT NULL AND summed_up.lot_id IS NULL ORDER BY lot.number`,
  ),
  toEnd: db.$client.prepare<[], ToEnd>(
    `SELECT state, closes_at AS closesAt FROM lot WHERE sold_where = 'here' AND state IN ('ready', 'open', 'held')`,
  ),
}))

/** Lots sold here that have ended and stand in no letter of the day yet. */
export const listNotSummedUp = (db: Db): { id: string; endedAt: Instant }[] => queries(db).notSummedUp.all()
/** Lots sold here that have not ended, with the closing that they have for now. */
export const listToEnd = (db: Db): ToEnd[] => queries(db).toEnd.all()
export const markSummedUp = (db: Db, lotId: string, at: Instant): void => void db.insert(summedUp).values({ lotId, at }).run()
