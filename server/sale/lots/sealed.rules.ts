// What a lot seals until it has ended, and every place where the database keeps it. Whatever leaves the house asks here.

/** Tables that hold nothing else. */
export const SEALED_TABLES: readonly string[] = ['bid', 'chain', 'chain_link']

/** Columns by their names in the database, and values within JSON by theirs there. */
const SEALED: ReadonlySet<string> = new Set([
  ...['sealed', 'sealed_reserve', 'sealed_cap'],
  ...['reserve_minor', 'reserve_nonce', 'leader_maximum_minor', 'second_maximum_minor', 'maximum_minor'],
  ...['reserveMinor', 'maximumMinor'],
])

/** Shown to everybody and signed: it says what is sealed as a commitment, and opens it at the end. */
const PUBLIC_TABLES: readonly string[] = ['ledger_leaf', 'ledger_head']

interface OfLot {
  number: number
  state: string
  soldWhere: string
  /** Whether it has one, and no more of it. */
  reserve: string
}

/** Lots that still seal something: those that run here, and those with a reserve that have not opened. One sold elsewhere has its bids there. */
export const sealedLots = (lots: readonly OfLot[]): number[] =>
  lots.flatMap(({ number, state, soldWhere, reserve }) => {
    const runs = soldWhere === 'here' && (state === 'open' || state === 'held')
    const waits = (state === 'draft' || state === 'ready') && reserve !== 'none'
    return runs || waits ? [number] : []
  })

type Row = Record<string, unknown>

/** A row of a table as it may be shown while lots are still to end. A lot that has ended has nothing sealed any more. */
export const rowWithoutSealed = <One extends Row>(table: string, row: One): One =>
  PUBLIC_TABLES.includes(table) || (table === 'lot' && row.ended_at !== null) ? row : withoutSealed(row)

/** Any row without what is sealed in it: in its columns, and however deep in what a column holds as JSON. */
export const withoutSealed = <One extends Row>(row: One): One =>
  Object.fromEntries(Object.entries(row).map(([name, value]) => [name, SEALED.has(name) ? null : cellWithoutSealed(value)])) as One

function cellWithoutSealed(value: unknown): unknown {
  if (typeof value !== 'string' || !/^[[{]/.test(value)) return value
  try {
    return JSON.stringify(JSON.parse(value, (name, inner) => (SEALED.has(name) ? null : inner)))
  } catch {
    // Words that only begin like JSON.
    return value
  }
}
