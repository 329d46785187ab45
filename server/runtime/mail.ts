import { and, asc, eq, isNull, lte } from 'drizzle-orm'
import { createTransport } from 'nodemailer'
import type { Db } from '../../db/open'
import { letter } from '../../db/schema'
import { MINUTE } from '../kernel/instant'
import { withoutKey } from '../yours/letters.rules'
import type { Log } from './log'
import type { Queue } from './queue'

const EACH_ROUND_MS = 2_000
const AT_ONCE = 20
const MOST_TRIES = 12

export interface Postman {
  stop(): void
}

/** Carries letters from the outbox to the mail server; what does not go is tried again, later and later. */
export function openPostman(parts: { db: Db; queue: Queue; smtpUrl: string; from: string; log: Log }): Postman {
  const { db, queue, smtpUrl, from, log } = parts
  const transport = createTransport(smtpUrl)
  let busy = false

  const carry = async () => {
    if (busy) return
    busy = true
    const waiting = db
      .select()
      .from(letter)
      .where(and(isNull(letter.sentAt), lte(letter.nextTryAt, Date.now())))
      .orderBy(asc(letter.at))
      .limit(AT_ONCE)
      .all()
      .filter(({ tries }) => tries < MOST_TRIES)
    for (const one of waiting) {
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
        log.warn({ err: reason, letter: one.id }, 'a letter did not go; it is tried again')
        const words = reason instanceof Error ? reason.message.slice(0, 300) : String(reason)
        await queue.run((turn) =>
          turn.db
            .update(letter)
            .set({ tries: one.tries + 1, lastError: words, nextTryAt: turn.now + 2 ** one.tries * MINUTE })
            .where(eq(letter.id, one.id))
            .run(),
        )
      }
    }
    busy = false
  }

  const timer = setInterval(() => {
    carry().catch((reason) => {
      busy = false
      log.error({ err: reason }, 'the postman stumbled')
    })
  }, EACH_ROUND_MS)
  timer.unref()
  return {
    stop() {
      clearInterval(timer)
      transport.close()
    },
  }
}
