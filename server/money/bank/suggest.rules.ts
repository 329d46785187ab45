import type { Minor } from '#kernel/money'
import { findLots, type LotKnown, namesPerson, paddleIn } from './references.rules'

export interface LotOwed {
  lot: number
  owedMinor: Minor
  buyer: string
  buyerPersonId: string | null
  paddle: number | null
}

/** An entry of the journal that touches the bank and is on no bank line yet. */
export interface EntryKnown {
  entryId: string
  kind: string
  amountMinor: Minor
  valueOn: string
  memo: string
  lot: number | null
}

export interface Owing {
  entryId: string
  memo: string
  payer: string | null
  leftMinor: Minor
}

export interface BooksKnown {
  lots: readonly LotOwed[]
  /** Under which references payers may write of a lot: of each of its contracts, and of several paid together. */
  references: readonly LotKnown[]
  entries: readonly EntryKnown[]
  /** Money that is owed back or has no home. */
  owing: readonly Owing[]
  causeName: string
  heldMinor: Minor
  show: (amount: Minor) => string
}

export interface LineSeen {
  on: string
  amountMinor: Minor
  words: string
  name: string
  reference: string
}

/** One place for a part of a line's money. */
export type Part =
  | { to: 'entry'; entryId: string; amountMinor: Minor }
  | { to: 'lot'; lot: number; amountMinor: Minor }
  /** `of`: whose it is, where that is known: a contract of theirs about that lot is over. */
  | { to: 'unplaced'; amountMinor: Minor; of?: { personId: string | null; buyer: string; lot: number } }
  | { to: 'refund'; entryId: string; amountMinor: Minor }
  | { to: 'remittance'; amountMinor: Minor }

export interface Suggestion {
  parts: Part[]
  /** "Sure" needs the reference and the amount; nothing is booked without a person all the same. */
  strength: 'sure' | 'likely' | 'weak'
  why: string
}

/** Days that may lie between what was written by hand and the bank's own day. Common practice, no source. */
const DAYS_APART = 7

/** What a line probably is, with the reason; null where nothing speaks for anything: then it stays in sight. */
export function suggest(line: LineSeen, books: BooksKnown): Suggestion | null {
  const text = `${line.reference} ${line.words} ${line.name}`
  const known = knownEntry(line, text, books)
  if (known) return known
  return line.amountMinor > 0
    ? (suggestFormer(line, text, books) ?? suggestIn(line, text, books))
    : suggestOut(-line.amountMinor, text, books)
}

/** Somebody has written it into the books by hand already: booking it again would count it twice. */
function knownEntry(line: LineSeen, text: string, { entries, references, show }: BooksKnown): Suggestion | null {
  const same = entries.filter(({ amountMinor, valueOn }) => amountMinor === line.amountMinor && daysBetween(valueOn, line.on) <= DAYS_APART)
  const hits = findLots(text, references).map(({ lot }) => lot)
  const fitting = hits.length > 0 ? same.filter(({ lot }) => lot === null || hits.includes(lot)) : same
  const [first] = fitting.toSorted((a, b) => daysBetween(a.valueOn, line.on) - daysBetween(b.valueOn, line.on))
  if (!first) return null
  const why = `In the books already, written by hand for ${first.valueOn}: ${first.memo}, ${show(Math.abs(first.amountMinor))}. It will not be booked again.`
  const strength = fitting.length === 1 && hits.length > 0 ? 'sure' : 'likely'
  return { parts: [{ to: 'entry', entryId: first.entryId, amountMinor: line.amountMinor }], strength, why }
}

/** Money of somebody whose contract is over is theirs: it is never laid on the same lot of whoever has it now. */
function suggestFormer({ amountMinor, name }: LineSeen, text: string, { lots, references, show }: BooksKnown): Suggestion | null {
  const hits = findLots(text, references)
  const byReference = hits.find(({ former }) => former)
  const byName = hits
    .filter(({ how }) => how === 'words')
    .flatMap(({ lot }) => references.filter((one) => one.lot === lot && one.former && namesPerson(`${name} ${text}`, one.former.buyer)))
    .find(({ lot }) => !namesPerson(`${name} ${text}`, lots.find((one) => one.lot === lot)?.buyer ?? ''))
  const found = byReference ?? byName
  if (!found?.former || (byReference && hits.some(({ former }) => !former))) return null
  const { lot, former } = found
  const now = lots.find((one) => one.lot === lot)
  const other =
    now?.buyerPersonId && now.buyerPersonId !== former.personId && now.owedMinor > 0
      ? ` It is not offered to ${now.buyer}, who has the lot now.`
      : ''
  const how = byReference
    ? `It carries the reference of ${former.buyer}’s contract for lot ${lot}`
    : `It names lot ${lot} and ${former.buyer}`
  return {
    parts: [{ to: 'unplaced', amountMinor, of: { ...former, lot } }],
    strength: 'likely',
    why: `${how}, whose sale to them fell through: ${show(amountMinor)} is owed back to them.${other}`,
  }
}

function suggestIn({ amountMinor, name }: LineSeen, text: string, books: BooksKnown): Suggestion | null {
  const { lots, references } = books
  const hits = findLots(text, references)
  if (hits.length > 0) {
    const named = [...new Set(hits.map(({ lot }) => lot))].flatMap((lot) => lots.find((one) => one.lot === lot) ?? [])
    const how = hits[0]?.how ?? 'words'
    const said = {
      reference: 'It carries the reference of',
      'reference with a slip': `"${hits[0]?.said}" is, apart from one slip, the reference of`,
      words: 'It names',
    }[how]
    const isOther = isSomebodyElse(name, named)
    const strength = how === 'reference' && !isOther ? 'sure' : 'likely'
    const payer = isOther ? `, though ${name} is not the name of ${named[0]?.buyer}, who bought` : ''
    return spread(amountMinor, named, { why: `${said} ${lotWords(named)}${payer}`, strength, show: books.show })
  }
  const owed = lots.filter(({ owedMinor }) => owedMinor > 0)
  const paddle = paddleIn(text)
  const theirs = owed.filter((one) => (paddle !== null && one.paddle === paddle) || namesPerson(text, one.buyer))
  if (theirs.length > 0) {
    const buyers = new Set(theirs.map(({ buyerPersonId }) => buyerPersonId))
    const hint = paddle !== null && theirs[0]?.paddle === paddle ? `paddle ${paddle}` : `the name of ${theirs[0]?.buyer}`
    const some = buyers.size === 1 ? subsetOf(theirs, amountMinor) : null
    if (some)
      return spread(amountMinor, some, {
        why: `No reference; ${hint} stands in it, and it is what is owed for ${lotWords(some)}`,
        strength: 'likely',
        show: books.show,
      })
    const [only] = theirs
    if (only && theirs.length === 1)
      return spread(amountMinor, [only], {
        why: `No reference; ${hint} stands in it, for ${lotWords([only])}`,
        strength: 'weak',
        show: books.show,
      })
    return null
  }
  const exact = owed.filter(({ owedMinor }) => owedMinor === amountMinor)
  const [only] = exact
  if (only && exact.length === 1)
    return spread(amountMinor, [only], {
      why: `It names no lot; only ${lotWords([only])} has exactly this to pay`,
      strength: 'weak',
      show: books.show,
    })
  return null
}

/** A payer is named, and no word of the name is the buyer's. People pay for one another, so it is said and not refused. */
function isSomebodyElse(name: string, lots: readonly LotOwed[]): boolean {
  const words = (text: string) =>
    text
      .normalize('NFKD')
      .replaceAll(/\p{M}/gu, '')
      .toLowerCase()
      .split(/[^\p{L}\p{N}]+/u)
      .filter(({ length }) => length > 2)
  const said = words(name)
  return said.length > 0 && lots.every(({ buyer }) => !words(buyer).some((word) => said.includes(word)))
}

/** Lays money on lots in order, each up to what is owed; what is left has no home yet. */
function spread(
  amountMinor: Minor,
  lots: readonly LotOwed[],
  said: { why: string; strength: Suggestion['strength']; show: BooksKnown['show'] },
): Suggestion {
  const parts: Part[] = []
  let left = amountMinor
  for (const { lot, owedMinor } of lots) {
    const part = Math.min(left, Math.max(0, owedMinor))
    if (part > 0) parts.push({ to: 'lot', lot, amountMinor: part })
    left -= part
  }
  const owed = lots.reduce((sum, one) => sum + Math.max(0, one.owedMinor), 0)
  if (left > 0) parts.push({ to: 'unplaced', amountMinor: left })
  const fits = amountMinor === owed ? ' and its amount.' : ''
  const rest =
    left > 0
      ? `${owed === 0 ? ', which is paid already' : ''}; ${said.show(left)} is more than is owed and stays unallocated until the payer says what it is for.`
      : ''
  const less = amountMinor < owed ? `; ${said.show(owed - amountMinor)} is still to pay.` : ''
  const isExact = amountMinor === owed
  return {
    parts,
    strength: isExact || said.strength === 'weak' ? said.strength : 'likely',
    why: `${said.why}${isExact && said.strength !== 'weak' ? fits : rest || less || '.'}`,
  }
}

function suggestOut(amountMinor: Minor, text: string, { owing, causeName, heldMinor, show }: BooksKnown): Suggestion | null {
  const back = owing.filter(({ leftMinor }) => leftMinor === amountMinor)
  const theirs = back.find(({ payer }) => payer !== null && namesPerson(text, payer))
  const [only] = back
  const refund = theirs ?? (back.length === 1 ? only : undefined)
  if (refund) {
    const why = `${show(amountMinor)} is owed back${refund.payer ? ` to ${refund.payer}` : ''}: ${refund.memo}.`
    return { parts: [{ to: 'refund', entryId: refund.entryId, amountMinor }], strength: theirs ? 'sure' : 'likely', why }
  }
  if (causeName !== '' && namesPerson(text, causeName)) {
    const over = amountMinor > heldMinor ? ` Only ${show(heldMinor)} is held for the cause: check that first.` : ''
    return {
      parts: [{ to: 'remittance', amountMinor }],
      strength: over ? 'weak' : 'likely',
      why: `${causeName} is named: sent on to the cause.${over}`,
    }
  }
  return null
}

const lotWords = (lots: readonly LotOwed[]): string =>
  lots.length === 1
    ? `lot ${lots[0]?.lot}`
    : `lots ${lots
        .slice(0, -1)
        .map(({ lot }) => lot)
        .join(', ')} and ${lots.at(-1)?.lot}`

/** Some of a buyer's lots that together come to exactly this; the fewest. At most a dozen are tried. */
function subsetOf(lots: readonly LotOwed[], amountMinor: Minor): LotOwed[] | null {
  const some = lots.slice(0, 12)
  let best: LotOwed[] | null = null
  for (let mask = 1; mask < 1 << some.length; mask += 1) {
    const chosen = some.filter((_, index) => (mask >> index) & 1)
    if (chosen.reduce((sum, { owedMinor }) => sum + owedMinor, 0) === amountMinor && (!best || chosen.length < best.length)) best = chosen
  }
  return best
}

const daysBetween = (a: string, b: string): number => Math.abs(Date.parse(a) - Date.parse(b)) / 86_400_000
