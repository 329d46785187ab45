import type Database from 'better-sqlite3'
import { letter } from '#db/schema/index'
import type { Dice } from '#kernel/dice'
import type { Instant } from '#kernel/instant'
import { sealAttachment, sealWords } from '#people/outbox/sealed-words'
import { sealCode } from '#people/sign-in/sealed-code'
import type { Recorded } from '#runtime/queue/queue'
import type { Fact, Sight, Turn } from '#runtime/queue/turn'

/** Makes the turn of each command: what it records and posts is kept with the rows that it speaks of, and what follows a fact is done at once. */
export function openTurns(parts: { handle: Database.Database; dice: Dice; sight(): Sight; react(turn: Turn, fact: Fact): void }) {
  const { handle, dice, sight, react } = parts
  const insertFact = handle.prepare('INSERT INTO fact (at, kind, subject, body) VALUES (?, ?, ?, ?)')
  return (now: Instant, facts: Recorded[]): Turn => {
    const turn: Turn = {
      ...sight(),
      now,
      dice,
      record: (one) => {
        const { lastInsertRowid } = insertFact.run(now, one.kind, one.subject, JSON.stringify(one.body))
        facts.push({ ...one, seq: Number(lastInsertRowid), at: now })
        react(turn, one)
      },
      post: ({ to, subject, body, code, forReader, attached }) => {
        const { db, keys } = turn
        const id = dice.id()
        const sealedCode = code === undefined ? null : sealCode(keys, id, code)
        const sealedWords = forReader === undefined ? null : sealWords(keys, id, forReader)
        const sealedAttachment = attached === undefined ? null : sealAttachment(keys, id, attached.text)
        const sealed = { sealedCode, sealedWords, sealedAttachment }
        db.insert(letter)
          .values({ id, at: now, recipient: to, subject, body, ...sealed, attachedName: attached?.fileName ?? null, nextTryAt: now })
          .run()
        return id
      },
    }
    return turn
  }
}
