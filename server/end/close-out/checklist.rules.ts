import { nameLots } from '#sale/lots/name-lots.rules'
import type { CheckItem } from './checklist.contract'

/** What there is at the end of a campaign, as the rooms below say it. Amounts of money are in words already. */
export interface EndFacts {
  /** The numbers of the lots that are still running. */
  openLots: readonly number[]
  /** The numbers of the lots that were prepared and never opened. */
  unopenedLots: readonly number[]
  endedLots: number
  /** The numbers of the lots that ended, that nobody has, and of which nobody said what becomes of them. */
  leftLots: readonly number[]
  /** The numbers of the lots that can be had at a fixed price now. */
  toBeHadLots: readonly number[]
  unpaidLots: readonly number[]
  unpaidWords: string
  unplaced: number
  unplacedWords: string
  matchedDueWords: string | null
  unsentLots: readonly number[]
  problemLots: readonly number[]
  varianceWords: string | null
  toRemitWords: string | null
  toTell: number
  cannotTell: number
  /** The day of the latest pack that can be read back, and whether the journal has grown since. */
  packOn: string | null
  isPackOld: boolean
  contactsDueOn: string
  contactsDeletedOn: string | null
  isContactsDue: boolean
}

/** What is to be done before a campaign is closed out, in the order in which it is done. Nothing is ticked by hand. */
export function closeOutChecklist(facts: EndFacts): CheckItem[] {
  const { openLots, unopenedLots, unpaidLots, unsentLots, problemLots } = facts
  const running = openLots.length > 0
  // Where nothing has been sold yet nothing is done, however little there is to do.
  const hasBegun = facts.endedLots > 0
  return [
    item('ended', 'All lots have ended', !running && facts.endedLots > 0, endedWords(facts), '/bench/lots', 'Lots'),
    unopenedLots.length === 0
      ? null
      : item(
          'unopened',
          'No prepared lot is left over',
          false,
          `${nameLots(unopenedLots)} never opened: open what you want to sell, or leave it for another time.`,
          '/bench/lots',
          'Lots',
        ),
    left(facts),
    item(
      'paid',
      'Every lot is paid, or its sale has ended',
      unpaidLots.length === 0 && !running && hasBegun,
      unpaidLots.length > 0 ? `${nameLots(unpaidLots)}: ${facts.unpaidWords} is still owed.` : 'Nobody owes anything.',
      '/bench/money',
      'Money',
      unpaidLots.length === 0,
    ),
    item(
      'placed',
      'All money received is allocated',
      facts.unplaced === 0 && hasBegun,
      facts.unplaced > 0 ? `${facts.unplacedWords} came in and is not allocated yet.` : 'Nothing is unallocated.',
      '/bench/money/in',
      'What came in',
      facts.unplaced === 0,
    ),
    facts.matchedDueWords === null
      ? null
      : item(
          'matched',
          'Promised matched giving has come in',
          false,
          `${facts.matchedDueWords} can be asked for.`,
          '/bench/money/in',
          'Promises',
        ),
    item(
      'sent',
      'Everything sold has been sent',
      unsentLots.length === 0 && !running && hasBegun,
      unsentLots.length > 0
        ? `${nameLots(unsentLots)} ${unsentLots.length === 1 ? 'has' : 'have'} not left the bench.`
        : 'Nothing is waiting to be sent.',
      '/bench/sending',
      'Sending',
      unsentLots.length === 0,
    ),
    problemLots.length === 0
      ? null
      : item(
          'problems',
          'Every problem is closed',
          false,
          `${nameLots(problemLots)}: a buyer is waiting for an answer.`,
          '/bench/sending',
          'Sending',
        ),
    item(
      'variance',
      'The statement balances',
      facts.varianceWords === null && hasBegun,
      facts.varianceWords ?? 'The variance is zero.',
      '/bench/close-out/statement',
      'Statement',
      facts.varianceWords === null,
    ),
    item(
      'remitted',
      'Everything has been passed on to the cause',
      facts.toRemitWords === null && unpaidLots.length === 0 && !running && hasBegun,
      facts.toRemitWords === null ? 'Nothing is held for the cause.' : `${facts.toRemitWords} is held for the cause.`,
      '/bench/money/out',
      'Pass it on',
      (running || !hasBegun) && facts.toRemitWords === null,
    ),
    item(
      'told',
      'Every donor knows what became of their gift',
      facts.toTell === 0 && !running && facts.endedLots > 0,
      toldWords(facts),
      '/bench/close-out/donors',
      'Letters',
      running || !hasBegun,
    ),
    item(
      'packed',
      'A pack has been made of everything',
      facts.packOn !== null && !facts.isPackOld,
      packWords(facts),
      '/bench/close-out/packs',
      'Packs',
      (running || !hasBegun) && facts.packOn === null,
    ),
    item(
      'contacts',
      'Contact data is deleted',
      facts.contactsDeletedOn !== null,
      contactWords(facts),
      '/bench/close-out/contacts',
      'Contact data',
      facts.contactsDeletedOn === null && !facts.isContactsDue,
    ),
  ].filter((one) => one !== null)
}

function item(key: string, title: string, isDone: boolean, words: string, href: string, link: string, isNotYet = false): CheckItem {
  return { key, title, state: isDone ? 'done' : isNotYet ? 'not-yet' : 'open', words, href, link }
}

/** A machine that nobody has keeps nothing from being closed out, but it is not passed over in silence. */
function left({ leftLots, toBeHadLots }: EndFacts): CheckItem | null {
  if (leftLots.length === 0 && toBeHadLots.length === 0) return null
  const words = [
    leftLots.length > 0 &&
      `Nobody has ${nameLots(leftLots).replace(/^L/, 'l')}: sell what you still want to sell at a fixed price or on another stream day, and say what you keep.`,
    toBeHadLots.length > 0 && `${nameLots(toBeHadLots)} can be had at a fixed price.`,
  ]
  const isNotYet = leftLots.length === 0
  return item(
    'left',
    'It is decided what becomes of the machines that are left',
    false,
    words.filter(Boolean).join(' '),
    '/bench/close-out#left',
    'What is left',
    isNotYet,
  )
}

function endedWords({ openLots, endedLots }: EndFacts): string {
  if (openLots.length > 0) return `${nameLots(openLots)} ${openLots.length === 1 ? 'is' : 'are'} still open.`
  return endedLots === 0 ? 'No lot has been opened yet.' : `${endedLots === 1 ? 'One lot has' : `${endedLots} lots have`} ended.`
}

function toldWords({ toTell, cannotTell }: EndFacts): string {
  const rest = cannotTell > 0 ? ` ${cannotTell === 1 ? 'One has' : `${cannotTell} have`} no email address and can be thanked by hand.` : ''
  if (toTell > 0) return `${toTell === 1 ? 'One letter is' : `${toTell} letters are`} ready to be sent.${rest}`
  return `Everybody who can be told has been told.${rest}`
}

function packWords({ packOn, isPackOld }: EndFacts): string {
  if (packOn === null) return 'No pack has been made that can be read back.'
  return isPackOld ? `The latest is of ${packOn}, and the journal has grown since.` : `The latest is of ${packOn}.`
}

function contactWords({ contactsDeletedOn, contactsDueOn, isContactsDue }: EndFacts): string {
  if (contactsDeletedOn !== null) return `Deleted on ${contactsDeletedOn}.`
  return isContactsDue ? `The time was up on ${contactsDueOn}: it is due.` : `The time is up on ${contactsDueOn}.`
}
