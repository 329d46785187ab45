import { bytesToHex } from '@noble/hashes/utils.js'
import type { History, Leaf } from './history.contract'
import { sayLeaf } from './leaf-words.rules'
import { hashOfLeaf } from './ledger.rules'

export interface NamedHistory {
  /** As whoever compares calls it: the name of a file, "what the house shows now". */
  name: string
  history: History
}

/** What two histories are to each other. No house can have signed both of a contradiction and be honest. */
export type Comparison = { is: 'same' | 'beginning' | 'another-lot'; words: string } | { is: 'contradiction'; entry: number; words: string }

/** Holds two histories against each other, entry by entry. That each holds by itself is for others to check. */
export function compareHistories(one: NamedHistory, other: NamedHistory): Comparison {
  if (one.history.origin !== other.history.origin)
    return {
      is: 'another-lot',
      words: `${one.name} is the history of ${one.history.origin}, ${other.name} that of ${other.history.origin}: they are of two lots and cannot be compared.`,
    }
  const [shorter, longer] = one.history.leaves.length <= other.history.leaves.length ? [one, other] : [other, one]
  const [count, all] = [shorter.history.leaves.length, longer.history.leaves.length]
  for (const [index, leaf] of shorter.history.leaves.entries()) {
    const twin = longer.history.leaves[index]
    if (twin && bytesToHex(hashOfLeaf(leaf)) === bytesToHex(hashOfLeaf(twin))) continue
    return {
      is: 'contradiction',
      entry: index + 1,
      words: `They contradict each other from entry ${index + 1} on. ${shorter.name}: ${told(leaf, shorter)} ${longer.name}: ${twin ? told(twin, longer) : 'nothing.'} One house cannot have shown both in good faith. Keep both files.`,
    }
  }
  if (count < all)
    return { is: 'beginning', words: `${shorter.name} is the beginning of ${longer.name}: its ${entries(count)} are the first of ${all}.` }
  return { is: 'same', words: `${one.name} and ${other.name} have the same ${entries(count)}.` }
}

/** A kept history held against the one that is shown now, which can have grown and never have shrunk. */
export function compareWithShown(kept: NamedHistory, shown: NamedHistory): Comparison | { is: 'taken-back'; words: string } {
  const [before, now] = [kept.history.leaves.length, shown.history.leaves.length]
  const compared = compareHistories(kept, shown)
  if (compared.is !== 'beginning' || before <= now) return compared
  return {
    is: 'taken-back',
    words: `${shown.name} has ${now} of the ${before} entries of ${kept.name}. Entries are only ever added, so the last ${before - now} were taken back. Keep the file.`,
  }
}

const entries = (count: number): string => (count === 1 ? 'entry' : `${count} entries`)
const told = (leaf: Leaf, { history }: NamedHistory): string => `“${sayLeaf(leaf, history.currency)}” at ${leaf.at}.`
