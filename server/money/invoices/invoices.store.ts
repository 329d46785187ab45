import { and, asc, desc, eq, isNotNull, isNull, ne, or } from 'drizzle-orm'
import type { Db } from '#db/open'
import { invoiceAccount, letter, paymentReminder, paymentTerms, secondOffer } from '#db/schema/index'
import type { PaymentTerms } from './invoices.contract'

export type OfferRow = typeof secondOffer.$inferSelect
export type ReminderRow = typeof paymentReminder.$inferSelect

export function findTerms(db: Db, campaign: number): PaymentTerms | null {
  const row = db.select().from(paymentTerms).where(eq(paymentTerms.id, campaign)).get()
  if (!row) return null
  const { id: _id, ...terms } = row
  return terms
}
export function keepTerms(db: Db, campaign: number, terms: PaymentTerms): void {
  db.insert(paymentTerms)
    .values({ id: campaign, ...terms })
    .onConflictDoUpdate({ target: paymentTerms.id, set: terms })
    .run()
}

/** What somebody was reminded of: a letter that was withdrawn before it went reminded nobody. */
export const listReminders = (db: Db, lotId: string, personId: string): ReminderRow[] =>
  db
    .select({ reminder: paymentReminder })
    .from(paymentReminder)
    .leftJoin(letter, eq(letter.id, paymentReminder.letterId))
    .where(and(eq(paymentReminder.lotId, lotId), eq(paymentReminder.personId, personId), isNull(letter.withdrawnAt)))
    .orderBy(asc(paymentReminder.step))
    .all()
    .map(({ reminder }) => reminder)
export const keepReminder = (db: Db, row: ReminderRow): void => {
  const target = [paymentReminder.lotId, paymentReminder.personId, paymentReminder.step]
  db.insert(paymentReminder).values(row).onConflictDoUpdate({ target, set: row }).run()
}
/** Of each lot that a letter reminds of. */
export const listRemindersIn = (db: Db, letterId: string): ReminderRow[] =>
  db.select().from(paymentReminder).where(eq(paymentReminder.letterId, letterId)).all()
/** The letters with reminders that wait in the outbox, and of which none can have gone out yet. */
export const listWaitingReminders = (db: Db, given: string): string[] =>
  db
    .selectDistinct({ id: letter.id })
    .from(paymentReminder)
    .innerJoin(letter, eq(letter.id, paymentReminder.letterId))
    .where(
      and(
        isNotNull(paymentReminder.letterId),
        isNull(letter.sentAt),
        isNull(letter.withdrawnAt),
        or(isNull(letter.lastError), ne(letter.lastError, given)),
      ),
    )
    .all()
    .map(({ id }) => id)

export const findOffer = (db: Db, id: string): OfferRow | undefined => db.select().from(secondOffer).where(eq(secondOffer.id, id)).get()
export const listOffersOfLot = (db: Db, lotId: string): OfferRow[] =>
  db.select().from(secondOffer).where(eq(secondOffer.lotId, lotId)).orderBy(desc(secondOffer.madeAt)).all()
export const listOffersTo = (db: Db, personId: string): OfferRow[] =>
  db.select().from(secondOffer).where(eq(secondOffer.personId, personId)).orderBy(desc(secondOffer.madeAt)).all()
export const findOpenOffer = (db: Db, lotId: string): OfferRow | undefined =>
  db
    .select()
    .from(secondOffer)
    .where(and(eq(secondOffer.lotId, lotId), isNull(secondOffer.answer)))
    .get()
export const listUnanswered = (db: Db): OfferRow[] => db.select().from(secondOffer).where(isNull(secondOffer.answer)).all()
export const insertOffer = (db: Db, row: typeof secondOffer.$inferInsert): void => {
  db.insert(secondOffer).values(row).run()
}
export const answerOffer = (db: Db, id: string, answer: NonNullable<OfferRow['answer']>, at: number): void => {
  db.update(secondOffer).set({ answer, answeredAt: at }).where(eq(secondOffer.id, id)).run()
}

/** The account on an invoice that was out when the house took another; undefined where it took none since. */
export const findInvoiceAccount = (db: Db, lotId: string, personId: string) =>
  db
    .select()
    .from(invoiceAccount)
    .where(and(eq(invoiceAccount.lotId, lotId), eq(invoiceAccount.personId, personId)))
    .get()
/** Of an invoice that keeps an account already, it stays. */
export const keepInvoiceAccount = (db: Db, row: typeof invoiceAccount.$inferInsert): void => {
  db.insert(invoiceAccount).values(row).onConflictDoNothing().run()
}
