import { createPublicKey, type KeyObject, verify } from 'node:crypto'
import { bytesToHex } from '@noble/hashes/utils.js'
import canonicalize from 'canonicalize'
import type { Keys, Sight } from '#runtime/queue/turn'
import type { LotRow } from '../lots/lots.service'
import { isKeyOf, type OpenedNote, openNote } from './checkpoint.rules'
import { type Leaf, leafShape } from './history.contract'
import * as store from './history.store'
import { append, type Hash, leafHash, rootOfPeaks } from './merkle.rules'

/** A history of which every row was found to be as it was written. */
export interface WholeHistory {
  leaves: readonly Leaf[]
  /** By how many entries each covers: its root, and the note as it was signed. */
  heads: ReadonlyMap<number, { root: Hash; checkpoint: string }>
}

/** Something that is not as it was written, in words that say where. */
export class Damaged extends Error {}

/** Lots of which anything of a history is kept, whether a lot is there for it or not. */
export const lotIdsWithHistory = ({ db }: Pick<Sight, 'db'>): string[] => store.lotIdsWithHistory(db)

/** Looks at each entry and each signed head of a lot as they lie in the database, signatures too. Throws Damaged. */
export function wholeHistory(sight: Sight, row: LotRow): WholeHistory {
  const leaves: Leaf[] = []
  const roots: Hash[] = []
  let peaks: Hash[] = []
  for (const { position, body } of store.listLeaves(sight.db, row.id)) {
    const place = leaves.length
    if (position !== place) throw new Damaged(`Entry ${place + 1} is missing, or the number of its place was altered.`)
    leaves.push(leafOf(place, body))
    peaks = append(peaks, place, leafHash(new TextEncoder().encode(body)))
    roots.push(rootOfPeaks(peaks))
  }
  const heads = headsOf(sight, row, roots)
  refuseOtherRow(row, leaves, peaks)
  return { leaves, heads }
}

function leafOf(place: number, body: string): Leaf {
  const damaged = `Entry ${place + 1} cannot be read: it was altered.`
  try {
    const leaf = leafShape.parse(JSON.parse(body))
    if (canonicalize(leaf) === body) return leaf
  } catch (cause) {
    throw new Damaged(damaged, { cause })
  }
  throw new Damaged(damaged)
}

function headsOf(sight: Sight, row: LotRow, roots: readonly Hash[]): WholeHistory['heads'] {
  const signers = signersOf(sight.keys)
  const heads = new Map<number, { root: Hash; checkpoint: string }>()
  const otherAt: number[] = []
  let before = 0
  const rows = store.listHeads(sight.db, row.id)
  for (const { size, root, checkpoint } of rows) {
    const place = `The head at ${size} entries`
    const note = openNote(checkpoint)
    if (!note || note.head.size !== size || note.head.origin !== row.terms?.origin)
      throw new Damaged(`${place} is not one of this lot: it, or the lot's terms, was altered.`)
    if (bytesToHex(note.head.root) !== root) throw new Damaged(`${place} is kept with another root than was signed.`)
    if (!isSigned(note, signers)) throw new Damaged(`${place} carries a signature that is not the house's.`)
    const led = roots[size - 1]
    if (!led || bytesToHex(led) !== root) otherAt.push(size)
    else if (otherAt.length === 0) before = size
    heads.set(size, { root: note.head.root, checkpoint })
  }
  const [first] = otherAt
  if (first !== undefined) throw new Damaged(`${entriesInWords(before + 1, first)} not what was signed at ${first} entries.`)
  const last = rows.at(-1)?.size ?? 0
  if (last !== roots.length) throw new Damaged(`${roots.length} entries are kept, and the last signed head covers ${last}.`)
  return heads
}

const entriesInWords = (from: number, to: number): string => (from === to ? `Entry ${from} is` : `One of the entries ${from} to ${to} is`)

/** What of the entries is repeated in the lot's own row. */
function refuseOtherRow(row: LotRow, leaves: readonly Leaf[], peaks: readonly Hash[]): void {
  const { terms } = row
  const [first] = leaves
  if (first?.kind !== 'opened' || !terms) throw new Damaged('Its opening is not kept.')
  if (row.ledgerSize !== leaves.length) throw new Damaged(`${leaves.length} entries are kept, and the lot counts ${row.ledgerSize}.`)
  if (row.headHash !== bytesToHex(rootOfPeaks(peaks)) || canonicalize(row.ledgerPeaks) !== canonicalize(peaks.map(bytesToHex)))
    throw new Damaged('The head that the lot keeps is not the last that was signed.')
  if (!terms.origin.endsWith(`/lots/${row.number}`)) throw new Damaged('Its number is not the one under which it opened.')
  const { currency, openingMinor, ladder, lateBid, sale } = terms
  const ofRow = { currency, openingMinor, ladder, hasReserve: first.terms.hasReserve, ...(lateBid && { lateBid }), sale }
  if (canonicalize(JSON.parse(JSON.stringify(ofRow))) !== canonicalize(first.terms))
    throw new Damaged('Its terms are not those that entry 1 fixed.')
  if (sale.unit !== row.unitTag) throw new Damaged('Its machine is not the one that entry 1 names.')
  if (row.openedAt !== Date.parse(first.at)) throw new Damaged('When it opened is not what entry 1 says.')
  if (row.sequence !== leaves.filter(({ kind }) => kind === 'bid').length) throw new Damaged('It counts other bids than its entries.')
  if (row.soldWhere !== 'here') throw new Damaged('Where it is sold is not what its history says.')
  const corrected = leaves.flatMap((leaf) =>
    leaf.kind === 'corrected'
      ? { at: Date.parse(leaf.at), words: leaf.words, ...(leaf.certificate && { certificate: leaf.certificate }) }
      : [],
  )
  if (canonicalize(row.corrections) !== canonicalize(corrected)) throw new Damaged('Its corrections are not those that its entries say.')
  const fault = faultInEnd(row, leaves)
  if (fault) throw new Damaged(fault)
}

function faultInEnd(
  { endedAt, endReason, hammerMinor, winnerPersonId, leaderPersonId, ...row }: LotRow,
  leaves: readonly Leaf[],
): string | null {
  const end = leaves.findLast((leaf) => leaf.kind === 'closed' || leaf.kind === 'withdrawn')
  const isSold = end?.kind === 'closed' && end.result === 'sold'
  if (hammerMinor !== (isSold ? end.hammerMinor : null)) return 'Its hammer is not what its end says.'
  if (winnerPersonId !== (isSold ? leaderPersonId : null)) return 'Its winner is not the person who led when it ended.'
  if (endReason !== (end?.kind === 'withdrawn' ? end.reason : null)) return 'Why it ended is not what its end says.'
  const ended = end?.kind === 'closed' ? row.closesAt : end ? Date.parse(end.at) : null
  return endedAt === ended ? null : 'When it ended is not what its end says.'
}

interface Signer {
  raw: Uint8Array
  key: KeyObject
}

const signersOf = (keys: Pick<Keys, 'jwks'>): Signer[] =>
  keys
    .jwks()
    .keys.flatMap(({ x, crv, kty }) =>
      x === undefined
        ? []
        : { raw: new Uint8Array(Buffer.from(x, 'base64url')), key: createPublicKey({ key: { x, crv, kty }, format: 'jwk' }) },
    )

const isSigned = (note: OpenedNote, signers: readonly Signer[]): boolean =>
  signers.some(({ raw, key }) => isKeyOf(note, raw) && verify(null, new TextEncoder().encode(note.text), key, note.signature))
