import { and, asc, desc, eq, inArray, max, sql } from 'drizzle-orm'
import type { Db } from '#db/open'
import { plainWrite } from '#db/plain'
import { preparedFor } from '#db/prepared'
import { lot, lotExtra, lotPhotograph, lotPostage, photograph, saleRule } from '#db/schema/index'
import type { Instant } from '#kernel/instant'
import type { Ladder } from '../price/ladder.rules'
import type { LotPhotograph, Postage } from './lots.contract'

export type StoredLot = typeof lot.$inferSelect

/** Queries of the hot path, built once for each database: building them for every bid halves what it can take. */
const queries = preparedFor((db) => {
  return {
    // Two that are asked before every bid and give a figure or two: as plain statements they take a third of the time.
    head: db.$client.prepare<[number], { headHash: string | null }>('SELECT head_hash AS headHash FROM lot WHERE number = ?'),
    nextDue: db.$client.prepare<[], { number: number; closesAt: Instant }>(
      `SELECT number, closes_at AS closesAt FROM lot
       WHERE state = 'open' AND sold_where = 'here' AND closes_at IS NOT NULL ORDER BY closes_at, number LIMIT 1`,
    ),
    campaignOf: db.$client.prepare<[number], { campaign: number }>('SELECT campaign_number AS campaign FROM lot WHERE number = ?'),
    byNumber: db
      .select()
      .from(lot)
      .where(eq(lot.number, sql.placeholder('number')))
      .prepare(),
    keepBid: plainWrite<keyof KeptBid>(
      db,
      db
        .update(lot)
        .set({
          closesAt: sql`${sql.placeholder('closesAt')}`,
          leaderAlias: sql`${sql.placeholder('leaderAlias')}`,
          leaderPersonId: sql`${sql.placeholder('leaderPersonId')}`,
          leaderSequence: sql`${sql.placeholder('leaderSequence')}`,
          secondAlias: sql`${sql.placeholder('secondAlias')}`,
          secondSequence: sql`${sql.placeholder('secondSequence')}`,
          standingMinor: sql`${sql.placeholder('standingMinor')}`,
          bids: sql`${sql.placeholder('bids')}`,
          sequence: sql`${sql.placeholder('sequence')}`,
          extensions: sql`${sql.placeholder('extensions')}`,
          ledgerSize: sql`${sql.placeholder('ledgerSize')}`,
          ledgerPeaks: sql`${sql.placeholder('ledgerPeaks')}`,
          headHash: sql`${sql.placeholder('headHash')}`,
        })
        .where(eq(lot.id, sql.placeholder('id'))),
    ),
  }
})

export const findByNumber = (db: Db, number: number): StoredLot | undefined => queries(db).byNumber.get({ number })
export const findById = (db: Db, id: string): StoredLot | undefined => db.select().from(lot).where(eq(lot.id, id)).get()
/** The lot in which a unit is or was sold last. */
export const findByUnit = (db: Db, unitId: string): StoredLot | undefined =>
  db.select().from(lot).where(eq(lot.unitId, unitId)).orderBy(desc(lot.number)).limit(1).get()

export const listAll = (db: Db, campaign: number): StoredLot[] =>
  db.select().from(lot).where(eq(lot.campaignNumber, campaign)).orderBy(asc(lot.number)).all()
export const listInStates = (db: Db, states: StoredLot['state'][]): StoredLot[] =>
  db.select().from(lot).where(inArray(lot.state, states)).orderBy(asc(lot.closesAt), asc(lot.number)).all()

/** The open lot sold here that closes first; of two at one instant the one with the lower number. Asked before every bid. */
export const nextDue = (db: Db) => queries(db).nextDue.get()
export const campaignOf = (db: Db, number: number): number | null => queries(db).campaignOf.get(number)?.campaign ?? null
/** What names all that has happened to a lot: asked before every bid. */
export const headOf = (db: Db, number: number): string | null => queries(db).head.get(number)?.headHash ?? null

export const highestNumber = (db: Db): number =>
  db
    .select({ top: max(lot.number) })
    .from(lot)
    .get()?.top ?? 0

export const insertLot = (db: Db, row: typeof lot.$inferInsert): void => {
  db.insert(lot).values(row).run()
}
export const updateLot = (db: Db, id: string, change: Partial<typeof lot.$inferInsert>): void => {
  db.update(lot).set(change).where(eq(lot.id, id)).run()
}

export type KeptBid = Pick<
  StoredLot,
  | 'id'
  | 'closesAt'
  | 'leaderAlias'
  | 'leaderPersonId'
  | 'leaderSequence'
  | 'secondAlias'
  | 'secondSequence'
  | 'standingMinor'
  | 'bids'
  | 'sequence'
  | 'extensions'
  | 'ledgerSize'
  | 'ledgerPeaks'
  | 'headHash'
>
export const keepBid = (db: Db, kept: KeptBid): void => {
  queries(db).keepBid({ ...kept, ledgerPeaks: JSON.stringify(kept.ledgerPeaks) })
}

export const findSaleLadder = (db: Db, campaign: number): Ladder | null =>
  db.select().from(saleRule).where(eq(saleRule.id, campaign)).get()?.ladder ?? null
export function keepSaleLadder(db: Db, campaign: number, ladder: Ladder | null): void {
  db.delete(saleRule).where(eq(saleRule.id, campaign)).run()
  if (ladder) db.insert(saleRule).values({ id: campaign, ladder }).run()
}

export const listExtras = (db: Db, lotId: string) =>
  db.select().from(lotExtra).where(eq(lotExtra.lotId, lotId)).orderBy(asc(lotExtra.seq)).all()
/** Lines as they are written now; one whose words stay keeps the gift that it came by. */
export function replaceExtras(db: Db, lotId: string, extras: readonly string[]): void {
  const gifts = new Map(listExtras(db, lotId).map(({ words, giftId }) => [words, giftId]))
  db.delete(lotExtra).where(eq(lotExtra.lotId, lotId)).run()
  for (const [seq, words] of extras.entries()) {
    db.insert(lotExtra)
      .values({ lotId, seq, words, giftId: gifts.get(words) ?? null })
      .run()
    gifts.delete(words)
  }
}
export const extrasOfGifts = (db: Db, giftIds: readonly string[]) =>
  db
    .select()
    .from(lotExtra)
    .where(inArray(lotExtra.giftId, [...giftIds]))
    .all()
export function insertExtra(db: Db, lotId: string, extra: { words: string; giftId: string }): void {
  const last = listExtras(db, lotId).at(-1)
  db.insert(lotExtra)
    .values({ lotId, seq: (last?.seq ?? -1) + 1, ...extra })
    .run()
}
export const deleteExtra = (db: Db, lotId: string, giftId: string): void =>
  void db
    .delete(lotExtra)
    .where(and(eq(lotExtra.lotId, lotId), eq(lotExtra.giftId, giftId)))
    .run()
/** A gift that goes along with one lot goes along with another instead, where that names it in the same words. */
export function moveExtraGifts(db: Db, fromLotId: string, toLotId: string): void {
  const to = listExtras(db, toLotId)
  for (const { seq, words, giftId } of listExtras(db, fromLotId)) {
    const there = to.find((extra) => extra.words === words && extra.giftId === null)
    if (giftId === null || !there) continue
    db.update(lotExtra)
      .set({ giftId: null })
      .where(and(eq(lotExtra.lotId, fromLotId), eq(lotExtra.seq, seq)))
      .run()
    db.update(lotExtra)
      .set({ giftId })
      .where(and(eq(lotExtra.lotId, toLotId), eq(lotExtra.seq, there.seq)))
      .run()
    there.giftId = giftId
  }
}
export const moveExtras = (db: Db, fromGiftId: string, toGiftId: string): void =>
  void db.update(lotExtra).set({ giftId: toGiftId }).where(eq(lotExtra.giftId, fromGiftId)).run()

const shown = {
  lotId: lotPhotograph.lotId,
  seq: lotPhotograph.seq,
  sha: lotPhotograph.sha,
  caption: lotPhotograph.caption,
  width: photograph.width,
  height: photograph.height,
}
const selectPhotographs = (db: Db) => db.select(shown).from(lotPhotograph).innerJoin(photograph, eq(photograph.sha, lotPhotograph.sha))

export const listPhotographs = (db: Db, lotId: string) =>
  selectPhotographs(db).where(eq(lotPhotograph.lotId, lotId)).orderBy(asc(lotPhotograph.seq)).all()
export const firstPhotographs = (db: Db): Map<string, LotPhotograph> =>
  new Map(
    selectPhotographs(db)
      .orderBy(desc(lotPhotograph.seq))
      .all()
      .map(({ lotId, seq: _seq, ...one }) => [lotId, one]),
  )
export const isPhotographKept = (db: Db, sha: string): boolean =>
  db.select({ sha: photograph.sha }).from(photograph).where(eq(photograph.sha, sha)).get() !== undefined
export function insertPhotograph(db: Db, lotId: string, photo: { sha: string; caption: string }): void {
  const top = db
    .select({ top: max(lotPhotograph.seq) })
    .from(lotPhotograph)
    .where(eq(lotPhotograph.lotId, lotId))
    .get()?.top
  db.insert(lotPhotograph)
    .values({ lotId, seq: (top ?? -1) + 1, ...photo })
    .run()
}
export const deletePhotograph = (db: Db, lotId: string, seq: number): number =>
  db
    .delete(lotPhotograph)
    .where(and(eq(lotPhotograph.lotId, lotId), eq(lotPhotograph.seq, seq)))
    .run().changes

export const listPostage = (db: Db, lotId: string): Postage[] =>
  db
    .select({ zone: lotPostage.zone, countries: lotPostage.countries, amountMinor: lotPostage.amountMinor })
    .from(lotPostage)
    .where(eq(lotPostage.lotId, lotId))
    .orderBy(asc(lotPostage.seq))
    .all()
export function replacePostage(db: Db, lotId: string, rows: readonly Postage[]): void {
  db.delete(lotPostage).where(eq(lotPostage.lotId, lotId)).run()
  for (const [seq, row] of rows.entries())
    db.insert(lotPostage)
      .values({ lotId, seq, ...row })
      .run()
}
