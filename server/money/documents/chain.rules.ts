import type { Minor } from '#kernel/money'
import type { DocumentContent } from './documents.contract'

/** An invoice and all that changed it since, in order; what it says now is added up from them alone. */
export type Chain = readonly DocumentContent[]

export interface Stated {
  contract: string
  lot: number
  of: 'price' | 'postage'
  words: string
  minor: Minor
}

/** Every invoice with what followed it, by the number of the invoice. */
export function chainsOf(documents: readonly DocumentContent[]): Map<number, DocumentContent[]> {
  const chains = new Map<number, DocumentContent[]>()
  const rootOf = new Map<number, number>()
  for (const one of documents) {
    const root = one.about === null ? one.number : (rootOf.get(one.about.number) ?? one.about.number)
    rootOf.set(one.number, root)
    chains.set(root, [...(chains.get(root) ?? []), one])
  }
  return chains
}

/** What a chain says is owed, line by line: a corrected invoice says it anew, a credit note takes from it. */
export function statedBy(chain: Chain): Stated[] {
  let stated: Stated[] = []
  for (const { kind, lines } of chain) {
    if (kind !== 'credit note') {
      stated = lines.map(({ contract, lot, of, words, grossMinor }) => ({ contract, lot, of, words, minor: grossMinor }))
      continue
    }
    stated = stated.map((line) => {
      const credited = lines.filter(({ contract, of }) => contract === line.contract && of === line.of)
      return { ...line, minor: line.minor - credited.reduce((sum, { grossMinor }) => sum + grossMinor, 0) }
    })
  }
  return stated
}

export const invoicedBy = (chain: Chain): Minor => statedBy(chain).reduce((sum, { minor }) => sum + minor, 0)

/** The document of a chain that a further one speaks of: the latest that said the whole. */
export const wholeOf = (chain: Chain): DocumentContent | undefined => chain.findLast(({ kind }) => kind !== 'credit note')

export type Next = { kind: 'credit note' | 'corrected invoice'; lines: Stated[]; differenceMinor: Minor } | null

/**
 * The document that must follow so that a chain says what stands: a credit note of what is less, and where anything is more a
 * corrected invoice of the whole. Null where it says so already.
 */
export function nextDocument(chain: Chain, standing: readonly Stated[]): Next {
  const stated = statedBy(chain)
  const key = ({ contract, of }: Stated) => `${contract} ${of}`
  const before = new Map(stated.map((line) => [key(line), line.minor]))
  const now = new Map(standing.map((line) => [key(line), line]))
  const all = [...standing, ...stated.filter((line) => !now.has(key(line))).map((line) => ({ ...line, minor: 0 }))]
  const changed = all.map((line) => ({ line, by: line.minor - (before.get(key(line)) ?? 0) })).filter(({ by }) => by !== 0)
  if (changed.length === 0) return null
  const differenceMinor = changed.reduce((sum, { by }) => sum + by, 0)
  if (changed.every(({ by }) => by < 0))
    return { kind: 'credit note', lines: changed.map(({ line, by }) => ({ ...line, minor: -by })), differenceMinor }
  return { kind: 'corrected invoice', lines: standing.filter(({ minor }) => minor !== 0), differenceMinor }
}
