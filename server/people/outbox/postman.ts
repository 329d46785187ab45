import { createTransport } from 'nodemailer'
import type { letter } from '#db/schema/index'
import type { Queue } from '#runtime/queue/queue'
import type { Sight } from '#runtime/queue/turn'
import type { Log } from '#runtime/settings/log'
import { codesGoodSince } from '../sign-in/code-life.rules'
import { CODE_PLACE, openCode } from '../sign-in/sealed-code'
import { isRefusedForGood, MOST_TRIES, nextTryAt, replyOf } from './carrying.rules'
import { withoutKey } from './gone-letter.rules'
import { mailServerOf } from './mail-server.rules'
import * as store from './outbox.store'
import { openWords } from './sealed-words'

const EACH_ROUND_MS = 2_000
/** So many letters are under way at once: one that a server is slow to take keeps no sign-in code waiting. */
const LANES = 4

export interface Postman {
  /** One round: until no letter waits that may go now, in all lanes that are free. The timer asks for it, and so may a test. */
  carry(): Promise<void>
  stop(): void
}

/** Carries letters from the outbox to the mail server; what does not go is tried again, later and later, unless it was refused for good. */
export function openPostman(parts: {
  sight(): Sight
  queue: Queue
  smtpUrl: string
  /** Without it a letter goes over TLS or not at all. */
  mayGoInClear?: boolean
  from: string
  log: Log
}): Postman {
  const { sight, queue, smtpUrl, from, log } = parts
  const transport = createTransport(mailServerOf(smtpUrl, parts.mayGoInClear ?? false))
  const underWay = new Set<string>()
  let walking = 0

  const carryOne = async (one: typeof letter.$inferSelect) => {
    try {
      const { keys } = sight()
      const body = openWords(keys, one.id, one.body, one.sealedWords)
      const text = one.sealedCode === null ? body : body.replace(CODE_PLACE, openCode(keys, one.id, one.sealedCode))
      // The id is the Message-ID: a letter that went out twice is one letter to the reader.
      await transport.sendMail({ from, to: one.recipient, subject: one.subject, text, messageId: `<${one.id}@tagstrip>` })
      await queue.run((turn) =>
        store.updateLetter(turn.db, one.id, {
          sentAt: turn.now,
          lastError: null,
          sealedCode: null,
          sealedWords: null,
          body: withoutKey(one.body),
        }),
      )
    } catch (reason) {
      // What a server answers often names the address, which belongs in no log: the maker reads it in the outbox.
      log.warn({ reply: replyOf(reason), letter: one.id }, 'a letter did not go')
      const lastError = reason instanceof Error ? reason.message.slice(0, 300) : String(reason)
      const tries = isRefusedForGood(reason) ? MOST_TRIES : one.tries + 1
      await queue.run((turn) => store.updateLetter(turn.db, one.id, { tries, lastError, nextTryAt: nextTryAt(one.tries, turn.now) }))
    }
  }

  const next = () => {
    const { db, now } = sight()
    return store.nextLetter(db, { now, underWay, codesSince: codesGoodSince(now), mostTries: MOST_TRIES })
  }

  const walk = async () => {
    walking++
    try {
      for (let one = next(); one; one = next()) {
        const { id } = one
        underWay.add(id)
        await carryOne(one).finally(() => underWay.delete(id))
      }
    } finally {
      walking--
    }
  }

  const carry = async () => {
    await Promise.all(Array.from({ length: LANES - walking }, walk))
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
