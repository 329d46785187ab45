import { createHash, timingSafeEqual } from 'node:crypto'
import { DAY, HOUR } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import { BROWSER_IS_KNOWN_FOR } from '#runtime/call/browser-cookie'
import type { FloodLimit } from '#runtime/call/flood'
import type { Keys, Letter, Sight, Turn } from '#runtime/queue/turn'
import { CODE_MINUTES, codesGoodSince } from './code-life.rules'
import * as store from './codes.store'
import { CODE_PLACE } from './sealed-code'

/** All browsers of one network together, and all networks. Asking leaves a row and a letter each. */
export const ASK_CODE_LIMIT: FloodLimit = {
  name: 'ask for a code',
  each: 20,
  all: 600,
  perMinutes: 10,
  words: 'You have asked for a lot of codes. Use the newest email, or wait a while.',
}
export const ENTER_CODE_LIMIT: FloodLimit = {
  name: 'enter a code',
  each: 30,
  all: 600,
  perMinutes: 10,
  words: 'Too many codes were entered. Wait a little.',
}

/** How often one browser may ask for one address. */
const ASKED_AN_HOUR = 6
const GUESSES_A_CODE = 5
/** With a million codes, somebody who guesses at one account every day for ten years finds the right one with one chance in nine. */
const GUESSES_A_DAY = 30
/** Of these so many are for browsers in which the account was signed in before, so that strangers' guesses do not shut its owner out. */
const KEPT_FOR_KNOWN_BROWSERS = 10

const whoseOf = (email: string, browser: string): store.Whose => ({
  email,
  browserHash: createHash('sha256').update(browser).digest('hex'),
})

/** Only this house can tell which code it is, and only for this asking. */
const hashOf = (keys: Keys, id: string, code: string): Buffer => Buffer.from(keys.seal(`sign-in code ${id} ${code}`))

/**
 * Writes a letter with a fresh code, which belongs to this address in this browser; one that the browser asked for before is
 * good for nothing any more. Answers the code: a demo shows it where it was asked for, and nothing else may.
 */
export function askCode(turn: Turn, email: string, browser: string): string {
  const { db, now, dice, keys } = turn
  const whose = whoseOf(email, browser)
  if (store.countCodes(db, whose, now - HOUR) >= ASKED_AN_HOUR)
    throw Refusal.at('email', 'A lot of codes were asked for here. Use the newest email, or try again in an hour.', 'too-many')
  store.forgetCodes(db, { untaken: now - 2 * DAY, all: now - BROWSER_IS_KNOWN_FOR })
  store.dropOldCodeLetters(db, codesGoodSince(now))
  const id = dice.id()
  const code = String(Buffer.from(dice.bytes(6)).readUIntBE(0, 6) % 1_000_000).padStart(6, '0')
  store.insertCode(db, { ...whose, id, codeHash: hashOf(keys, id, code).toString('hex'), at: now })
  turn.post(codeLetter(email, code))
  return code
}

/**
 * Weighs a code. Null: it is the right one, and is spent. A refusal is answered and not thrown, since what was guessed is
 * counted all the same.
 */
export function weighCode(turn: Turn, email: string, code: string, browser: string): Refusal | null {
  const { db, now, keys } = turn
  const whose = whoseOf(email, browser)
  const asked = store.latestCode(db, whose)
  if (!asked) return Refusal.at('code', 'This browser did not ask for that code. Ask for a new one here.')
  if (asked.takenAt !== null || asked.at < codesGoodSince(now)) return DOES_NOT_FIT()
  if (asked.guesses >= GUESSES_A_CODE) return Refusal.at('code', 'That was too many tries for one code. Ask for a new one.', 'too-many')
  if (guessesLeft(turn, whose) < 1)
    return Refusal.at(
      'code',
      'Too many codes were tried for this address today. Try again tomorrow, or sign in with a passkey.',
      'too-many',
    )
  store.noteGuess(db, asked.id)
  if (!timingSafeEqual(hashOf(keys, asked.id, code), Buffer.from(asked.codeHash, 'hex'))) return DOES_NOT_FIT()
  store.noteTaken(db, asked.id, now)
  return null
}

function guessesLeft({ db, now }: Sight, whose: store.Whose): number {
  // A code is guessed at for some minutes after it was asked for.
  const guessed = store.countGuesses(db, whose.email, codesGoodSince(now - DAY))
  return GUESSES_A_DAY - guessed - (store.wasTakenBefore(db, whose) ? 0 : KEPT_FOR_KNOWN_BROWSERS)
}

const DOES_NOT_FIT = () => Refusal.at('code', 'That code does not work, or it is too old. Look at the newest email, or ask for a new code.')

const codeLetter = (to: string, code: string): Letter => ({
  to,
  subject: 'Your sign-in code',
  body: `${CODE_PLACE} is your code. It is good for ${CODE_MINUTES} minutes, once, in the browser that asked for it.\n\nIf you did not ask for it, you can ignore this email; nothing happens without the code.`,
  code,
})
