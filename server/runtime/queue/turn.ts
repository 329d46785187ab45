import { createHash } from 'node:crypto'
import canonicalize from 'canonicalize'
import { eq } from 'drizzle-orm'
import type { Db } from '#db/open'
import { request } from '#db/schema/index'
import type { Dice } from '#kernel/dice'
import type { Instant } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import type { Role } from '#kernel/role'
import { keyedDigest, openAnswer, sealAnswer } from './kept-answer'
import type { Sealing } from './sealing'

/** Ed25519 keys of the house: one signs, all of them verify. */
export interface Keys extends Sealing {
  kid: string
  sign(data: Uint8Array): Uint8Array
  jwks(): { keys: Record<string, string>[] }
}

/** Enough to read: what a query is given. */
export interface Sight {
  db: Db
  now: Instant
  /** Where the house is reached from outside, no slash at the end. */
  publicUrl: string
  keys: Keys
  /** The number of the campaign that is looked at; the present one where none is named. */
  campaign?: number
}

/** What happened, in the past tense and complete in itself; `subject` is `lot:7`, `unit:TERN-03`, … */
export interface Fact {
  kind: string
  subject: string
  body: Record<string, unknown>
}

export interface Letter {
  to: string
  subject: string
  /** Where a code belongs into it, a sign stands in its place. */
  body: string
  /** Kept sealed until the letter has gone, and only then. */
  code?: string
  /** Words for its reader alone, such as their maximum; in the body a sign stands in their place. Kept sealed in the same way; a line for each sign. */
  forReader?: string
  /** A file for its reader alone, kept sealed in the same way. */
  attached?: { fileName: string; text: string }
}

/** Enough to change something: what a command is given, inside its savepoint. */
export interface Turn extends Sight {
  dice: Dice
  /** Kept with the rows it speaks of, in the same transaction; screens are told after the commit. */
  record(fact: Fact): void
  /** Laid in the outbox in the same transaction; it leaves after the commit. Answers under which name it lies there. */
  post(letter: Letter): string
}

export interface Actor {
  personId: string
  role: Role
  name: string
  email: string
}

/**
 * One effect and one answer for a key that the client made, however often it is sent.
 * The same key with other content is a mistake of the client's and refused.
 */
export function once<T>(turn: Turn, key: string, content: unknown, work: () => T): T {
  const plain = createHash('sha256')
    .update(canonicalize(content) ?? '')
    .digest('hex')
  const digest = keyedDigest(turn.keys, key, plain)
  const before = turn.db.select().from(request).where(eq(request.key, key)).get()
  if (before) {
    if (before.digest !== digest)
      throw new Refusal('conflict', 'This form was already sent with different content. Reload the page and try again.')
    return JSON.parse(openAnswer(turn.keys, key, before.answer)) as T
  }
  const answer = work()
  turn.db
    .insert(request)
    .values({ key, digest, answer: sealAnswer(turn.keys, key, JSON.stringify(answer ?? null)), at: turn.now })
    .run()
  return answer
}
