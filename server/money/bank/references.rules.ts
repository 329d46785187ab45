/** What a payer wrote, and which of our lots it may name. */

export interface LotKnown {
  lot: number
  /** ISO 11649, without blanks; of one contract about the lot, or of several that are paid together. */
  reference: string
  /** The buyer of a contract that is over: what comes under its reference is theirs, and never another buyer's of the lot. */
  former?: { personId: string | null; buyer: string }
}

export interface Hit {
  lot: number
  how: 'reference' | 'reference with a slip' | 'words'
  /** As it stands in the payer's text. */
  said: string
  former?: LotKnown['former']
}

/** Lots that a text names: by their reference, by one with a single slip in it, or as "lot 7". Better kinds push out worse. */
export function findLots(text: string, lots: readonly LotKnown[]): Hit[] {
  const compact = text
    .normalize('NFKC')
    .toUpperCase()
    .replaceAll(/[^0-9A-Z]/g, '')
  const found = lots.filter(({ reference }) => compact.includes(reference))
  // By chance a reference can begin with another whole one: the longer one was written.
  const exact = found.filter(
    ({ reference }) => !found.some((other) => other.reference !== reference && other.reference.includes(reference)),
  )
  if (exact.length > 0) return exact.map(({ lot, reference, former }) => hit(lot, 'reference', reference, former))
  const near = lots.flatMap(({ lot, reference, former }): Hit[] => {
    const said = nearlyIn(compact, reference)
    return said === null ? [] : [hit(lot, 'reference with a slip', said, former)]
  })
  const shared = sharedBy(near, lots)
  if (shared) return shared
  // "…LOT17" holds a slip of "…LOT1": the longer one is meant. Two that do not hold each other say nothing by themselves.
  const longest = near.toSorted((one, other) => other.said.length - one.said.length)[0]
  if (longest && near.every(({ said, lot }) => lot === longest.lot || (said !== longest.said && longest.said.includes(said))))
    return [longest]
  const numbers = new Set(lots.map(({ lot }) => lot))
  const named = lotsInWords(text, numbers)
  return [...numbers].flatMap((lot): Hit[] => (named.has(lot) ? [{ lot, how: 'words', said: `lot ${lot}` }] : []))
}

const hit = (lot: number, how: Hit['how'], said: string, former: LotKnown['former']): Hit => ({ lot, how, said, ...(former && { former }) })

/** One reference that names several lots, with one slip in it: all of them are meant. */
function sharedBy(near: readonly Hit[], lots: readonly LotKnown[]): Hit[] | null {
  const [first] = near
  if (!first || near.length < 2 || near.some(({ said }) => said !== first.said)) return null
  const meant = new Set(lots.filter(({ reference }) => nearlyIn(first.said, reference) !== null).map(({ reference }) => reference))
  return meant.size === 1 ? [...near] : null
}

/** Full-width forms made plain, and one blank where there were several. */
const inOneLine = (text: string) => text.normalize('NFKC').replaceAll(/\s+/g, ' ')

/** "LOT 7", "lot no. 7", "lots 3 and 5", "LOT7/8"; and "LOT1 1", the end of a reference as it is printed in groups of four. */
function lotsInWords(text: string, known: ReadonlySet<number>): Set<number> {
  const found = new Set<number>()
  const printed = /\bLOT(\d) (\d{1,4})(?!\d)/.exec(inOneLine(text))
  const whole = Number(`${printed?.[1]}${printed?.[2]}`)
  if (printed && known.has(whole)) return new Set([whole])
  for (const match of inOneLine(text).matchAll(/\blots?\.? ?(?:no\.?|nr\.?|number|#)? ?(\d(?:[\d ,&+/]|and|und|et|y)*)/gi)) {
    for (const [number] of (match[1] ?? '').matchAll(/\d+/g)) if (Number(number) <= 99_999) found.add(Number(number))
  }
  return found
}

/**
 * A part of the text that differs from the reference by one slip: a wrong character, one too many, one lost, or two
 * neighbours swapped. Two good references always differ by more than one wrong or swapped character, since the check digits
 * of ISO/IEC 7064 MOD 97-10 find those.
 */
function nearlyIn(compact: string, reference: string): string | null {
  for (const length of [reference.length, reference.length + 1, reference.length - 1]) {
    for (let at = 0; at + length <= compact.length; at += 1) {
      const part = compact.slice(at, at + length)
      if (isOneSlip(part, reference)) return part
    }
  }
  return null
}

export function isOneSlip(written: string, meant: string): boolean {
  if (written === meant) return false
  let from = 0
  while (from < Math.min(written.length, meant.length) && written[from] === meant[from]) from += 1
  const [a, b] = [written.slice(from), meant.slice(from)]
  if (a.length === b.length)
    return a.slice(1) === b.slice(1) || (a.length > 1 && a[0] === b[1] && a[1] === b[0] && a.slice(2) === b.slice(2))
  return a.length > b.length ? a.slice(1) === b : a === b.slice(1)
}

/** "paddle 12", "bidder no. 12". */
export const paddleIn = (text: string): number | null => {
  const match = /\b(?:paddle|bidder)\.? ?(?:no\.?|nr\.?|number|#)? ?(\d+)\b/i.exec(inOneLine(text))
  return match && Number(match[1]) <= 999_999 ? Number(match[1]) : null
}

/** Every word of a name stands in the text, accents and order aside; words of one or two letters do not count. */
export function namesPerson(text: string, name: string): boolean {
  const words = (said: string) =>
    said
      .normalize('NFKD')
      .replaceAll(/\p{M}/gu, '')
      .toLowerCase()
      .split(/[^\p{L}\p{N}]+/u)
      .filter(Boolean)
  const inText = new Set(words(text))
  const wanted = words(name).filter(({ length }) => length > 2)
  return wanted.length > 0 && wanted.every((word) => inText.has(word))
}
