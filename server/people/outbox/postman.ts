import { createTransport } from 'nodemailer'
import type { letter } from '#db/schema/index'
import { Refusal } from '#kernel/refusal'
import type { Queue } from '#runtime/queue/queue'
import type { Keys, Sight, Turn } from '#runtime/queue/turn'
import type { Log } from '#runtime/settings/log'
import { codesGoodSince } from '../sign-in/code-life.rules'
import { CODE_PLACE, openCode } from '../sign-in/sealed-code'
import { isRefusedForGood, MOST_TRIES, nextTryAt, replyOf } from './carrying.rules'
import { withoutKey } from './gone-letter.rules'
import { mailServerOf } from './mail-server.rules'
import { NOT_KNOWN, type Reviewed, rewriteLetter } from './outbox.service'
import * as store from './outbox.store'
import { openAttachment, openWords } from './sealed-words'

const EACH_ROUND_MS = 2_000
/** So many letters are under way at once: one that a server is slow to take keeps no sign-in code waiting. */
const LANES = 4

export interface Postman {
  /** One round: until no letter waits that may go now, in all lanes that are free. The timer asks for it, and so may a test. */
  carry(): Promise<void>
  /** When a letter went last, and since when none does; by the monotonic clock. One that is refused for its own sake says nothing of the others. */
  state(): { wentAt: number | null; failingSince: number | null }
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
  /** Asked right before a letter goes: whether what it says is still so. */
  review?(turn: Turn, letterId: string): Reviewed
  log: Log
}): Postman {
  const { sight, queue, smtpUrl, from, log } = parts
  const transport = createTransport(mailServerOf(smtpUrl, parts.mayGoInClear ?? false))
  const underWay = new Set<string>()
  /** Letters that went and whose going could not be noted, on a full disk: none of them is ever sent again. */
  const gone = new Map<string, typeof letter.$inferSelect>()
  let walking = 0
  let wentAt: number | null = null
  let failingSince: number | null = null

  const noteGone = async (one: typeof letter.$inferSelect) => {
    gone.set(one.id, one)
    await queue.run((turn) =>
      store.updateLetter(turn.db, one.id, {
        sentAt: turn.now,
        lastError: null,
        sealedCode: null,
        sealedWords: null,
        sealedAttachment: null,
        body: withoutKey(one.body),
      }),
    )
    gone.delete(one.id)
  }

  /** Noted before it is sent: what cannot be noted does not go, and what goes is not sent again at once, whatever happens then. */
  const noteGiven = (id: string) =>
    queue.run((turn) => {
      const reviewed = parts.review?.(turn, id) ?? 'as it is'
      rewriteLetter(turn, id, reviewed)
      const now = store.findLetter(turn.db, id)
      if (!now || reviewed === 'overtaken') return null
      store.updateLetter(turn.db, id, { tries: now.tries + 1, lastError: NOT_KNOWN, nextTryAt: nextTryAt(now.tries, turn.now) })
      return now
    })

  const carryOne = async ({ id }: typeof letter.$inferSelect) => {
    const one = await noteGiven(id)
    if (!one) return
    try {
      const { keys } = sight()
      const body = openWords(keys, one.id, one.body, one.sealedWords)
      const text = one.sealedCode === null ? body : body.replace(CODE_PLACE, openCode(keys, one.id, one.sealedCode))
      const attachments = attachmentsOf(keys, one)
      // The id is the Message-ID: a letter that went out twice is one letter to the reader.
      await transport.sendMail({ from, to: one.recipient, subject: one.subject, text, attachments, messageId: `<${one.id}@tagstrip>` })
    } catch (reason) {
      // What a server answers often names the address, which belongs in no log: the maker reads it in the outbox.
      log.warn({ reply: replyOf(reason), letter: one.id }, 'a letter did not go')
      if (!isRefusedForGood(reason)) failingSince ??= performance.now()
      const lastError = reason instanceof Error ? reason.message.slice(0, 300) : String(reason)
      const change = isRefusedForGood(reason) ? { tries: MOST_TRIES, lastError } : { lastError }
      await queue.run((turn) => store.updateLetter(turn.db, one.id, change))
      return
    }
    wentAt = performance.now()
    failingSince = null
    await noteGone(one)
  }

  const next = () => {
    const { db, now } = sight()
    return store.nextLetter(db, {
      now,
      underWay: new Set([...underWay, ...gone.keys()]),
      codesSince: codesGoodSince(now),
      mostTries: MOST_TRIES,
    })
  }

  const walk = async () => {
    walking++
    try {
      for (const one of [...gone.values()]) if (!underWay.has(one.id)) await noteGone(one)
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
    carry().catch((reason) => {
      // A full disk is said once, by the house; letters wait for room.
      if (!(reason instanceof Refusal && reason.code === 'no-room')) log.error({ err: reason }, 'the postman stumbled')
    })
  }, EACH_ROUND_MS)
  timer.unref()
  return {
    carry,
    state: () => ({ wentAt, failingSince }),
    stop() {
      clearInterval(timer)
      transport.close()
    },
  }
}

const attachmentsOf = (keys: Keys, { id, attachedName, sealedAttachment }: typeof letter.$inferSelect) =>
  attachedName === null || sealedAttachment === null
    ? []
    : [{ filename: attachedName, content: openAttachment(keys, id, sealedAttachment) }]
