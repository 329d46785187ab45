import { and, asc, eq, isNull, lt, lte } from 'drizzle-orm'
import { createTransport } from 'nodemailer'
import { letter } from '#db/schema/index'
import type { Queue } from '#runtime/queue/queue'
import type { Sight } from '#runtime/queue/turn'
import type { Log } from '#runtime/settings/log'
import { isRefusedForGood, MOST_TRIES, nextTryAt } from './carrying.rules'
import { withoutKey } from './gone-letter.rules'

const EACH_ROUND_MS = 2_000
const AT_ONCE = 20

export interface Postman {
  /** One round; the timer asks for it, and so may a test. */
  carry(): Promise<void>
  stop(): void
}

/** Carries letters from the outbox to the mail server; what does not go is tried again, later and later, unless it was refused for good. */
export function openPostman(parts: { sight(): Sight; queue: Queue; smtpUrl: string; from: string; log: Log }): Postman {
  const { sight, queue, smtpUrl, from, log } = parts
  const transport = createTransport(smtpUrl)
  let busy = false

  const carryOne = async (one: typeof letter.$inferSelect) => {
    try {
      // The id is the Message-ID: a letter that went out twice is one letter to the reader.
      await transport.sendMail({ from, to: one.recipient, subject: one.subject, text: one.body, messageId: `<${one.id}@tagstrip>` })
      await queue.run((turn) =>
        turn.db
          .update(letter)
          .set({ sentAt: turn.now, lastError: null, body: withoutKey(one.body) })
          .where(eq(letter.id, one.id))
          .run(),
      )
    } catch (reason) {
      log.warn({ err: reason, letter: one.id }, 'a letter did not go')
      const lastError = reason instanceof Error ? reason.message.slice(0, 300) : String(reason)
      const tries = isRefusedForGood(reason) ? MOST_TRIES : one.tries + 1
      await queue.run((turn) =>
        turn.db
          .update(letter)
          .set({ tries, lastError, nextTryAt: nextTryAt(one.tries, turn.now) })
          .where(eq(letter.id, one.id))
          .run(),
      )
    }
  }

  const carry = async () => {
    if (busy) return
    busy = true
    try {
      const { db, now } = sight()
      // Given-up letters are left out here: among the first twenty they would keep all others from going.
      const waiting = db
        .select()
        .from(letter)
        .where(and(isNull(letter.sentAt), lte(letter.nextTryAt, now), lt(letter.tries, MOST_TRIES)))
        .orderBy(asc(letter.at))
        .limit(AT_ONCE)
        .all()
      for (const one of waiting) await carryOne(one)
    } finally {
      busy = false
    }
  }

  const timer = setInterval(() => {
    carry().catch((reason) => log.error({ err: reason }, 'the postman stumbled'))
  }, EACH_ROUND_MS)
  timer.unref()
  return {
    carry,
    stop() {
      clearInterval(timer)
      transport.close()
    },
  }
}
