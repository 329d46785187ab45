import { and, asc, eq, gt, gte, isNull, min, or } from 'drizzle-orm'
import type { Db } from '#db/open'
import { gift, keepQuestion, lot, paddle } from '#db/schema/index'
import type { Instant } from '#kernel/instant'

export type QuestionRow = typeof keepQuestion.$inferSelect

export const insertQuestion = (db: Db, row: QuestionRow): void => void db.insert(keepQuestion).values(row).run()
export const changeQuestion = (db: Db, id: string, change: Partial<Pick<QuestionRow, 'answer' | 'answeredAt' | 'forgottenAt'>>): void =>
  void db.update(keepQuestion).set(change).where(eq(keepQuestion.id, id)).run()
export const findQuestion = (db: Db, tokenHash: string): QuestionRow | null =>
  db.select().from(keepQuestion).where(eq(keepQuestion.tokenHash, tokenHash)).get() ?? null
export const listQuestions = (db: Db, campaign: number): QuestionRow[] =>
  db
    .select()
    .from(keepQuestion)
    .where(eq(keepQuestion.campaignNumber, campaign))
    .orderBy(asc(keepQuestion.askedAt), asc(keepQuestion.id))
    .all()

/** The first day on which somebody who did not answer is to be forgotten; null where there is none. */
export const firstUnanswered = (db: Db): Instant | null =>
  db
    .select({ at: min(keepQuestion.answerBy) })
    .from(keepQuestion)
    .where(and(isNull(keepQuestion.answer), isNull(keepQuestion.forgottenAt)))
    .get()?.at ?? null
export const listUnanswered = (db: Db): QuestionRow[] =>
  db
    .select()
    .from(keepQuestion)
    .where(and(isNull(keepQuestion.answer), isNull(keepQuestion.forgottenAt)))
    .all()

/** Who said yes for a later campaign, or has still time to say it. */
const isToStay = (campaign: number, now: Instant) =>
  and(
    gt(keepQuestion.campaignNumber, campaign),
    or(eq(keepQuestion.answer, 'keep'), and(isNull(keepQuestion.answer), gt(keepQuestion.answerBy, now), isNull(keepQuestion.forgottenAt))),
  )
export const keptQuestions = (db: Db, campaign: number, now: Instant): QuestionRow[] =>
  db.select().from(keepQuestion).where(isToStay(campaign, now)).all()

/** Bidders who accepted the rules of a campaign that began at this instant or later. */
export const biddersSince = (db: Db, at: Instant): string[] =>
  db
    .select({ id: paddle.personId })
    .from(paddle)
    .where(gte(paddle.rulesAcceptedAt, at))
    .all()
    .map(({ id }) => id)

/** Donors with a gift from this instant or later. */
export const donorsSince = (db: Db, at: Instant): string[] =>
  db
    .selectDistinct({ id: gift.donorId })
    .from(gift)
    .where(gte(gift.at, at))
    .all()
    .map(({ id }) => id)

export const lotsAfter = (db: Db, campaign: number): string[] =>
  db
    .select({ id: lot.id })
    .from(lot)
    .where(gt(lot.campaignNumber, campaign))
    .all()
    .map(({ id }) => id)
