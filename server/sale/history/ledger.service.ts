import canonicalize from 'canonicalize'
import { invariant } from '#kernel/invariant'
import type { Keys, Turn } from '#runtime/queue/turn'
import type { LotRow } from '../lots/lots.service'
import { checkpointText, signedNote } from './checkpoint.rules'
import type { Leaf } from './history.contract'
import * as store from './history.store'
import { openedLeaf } from './leaves.rules'
import { grow, leafHashOfText, rootOfPeaks } from './merkle.rules'

export interface Appended {
  /** What the lot keeps of its grown ledger; whoever appended writes it together with the new state. */
  kept: Pick<LotRow, 'ledgerSize' | 'ledgerPeaks' | 'headHash'>
  leaves: readonly Leaf[]
  /** Where the first of the new entries stands, and its way to the head. */
  index: number
  size: number
  path: string[]
  checkpoint: string
}

/** The host name under which the house signs. */
export const houseName = (publicUrl: string): string => new URL(publicUrl).host

/** The first entry of a lot that opens: the terms for all to read, and the reserve sealed until the end. */
export function beginLedger(turn: Turn, row: LotRow): Appended['kept'] {
  const { terms, closesAt } = row
  invariant(terms && closesAt !== null, 'a lot opens with its terms and its closing')
  const { currency, openingMinor, ladder, lateBid, sale } = terms
  const fixed = { currency, openingMinor, ladder: [...ladder], hasReserve: row.reserve !== null, ...(lateBid && { lateBid }) }
  const open = { ...fixed, sale: JSON.parse(JSON.stringify(sale)) }
  return appendLeaves(turn, row, [openedLeaf(row.number, { kind: 'opened', at: turn.now, closesAt }, open, row.reserve)]).kept
}

/** Adds entries to a lot's ledger and signs the new head, in the turn that they belong to. What the lot keeps of it is the caller's to write. */
export function appendLeaves(turn: Turn, row: LotRow, leaves: readonly Leaf[]): Appended {
  invariant(row.terms && leaves.length > 0, 'a ledger begins with its terms')
  const index = row.ledgerSize
  const size = index + leaves.length
  const bodies = leaves.map((leaf) => canonicalize(leaf) ?? '')
  const hashes = bodies.map(leafHashOfText)
  const grown = grow(row.ledgerPeaks.map(fromHex), index, hashes)
  const root = rootOfPeaks(grown.peaks)
  const text = checkpointText({ origin: row.terms.origin, size, root })
  // The name under which the lot opened, also when the house has moved to another since: a history has one.
  const name = row.terms.origin.slice(0, row.terms.origin.indexOf('/'))
  const checkpoint = signedNote(text, name, publicKeyOf(turn.keys), turn.keys.sign(new TextEncoder().encode(text)))
  for (const [offset, body] of bodies.entries()) store.insertLeaf(turn.db, { lotId: row.id, position: index + offset, body })
  const headHash = toHex(root)
  store.insertHead(turn.db, { lotId: row.id, size, root: headHash, checkpoint })
  const kept = { ledgerSize: size, ledgerPeaks: grown.peaks.map(toHex), headHash }
  return { kept, leaves, index, size, path: grown.path.map(toHex), checkpoint }
}

// At every bid, where the platform's own is faster than what also runs in browsers.
const toHex = (bytes: Uint8Array): string => Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString('hex')
const fromHex = (hex: string): Uint8Array => Buffer.from(hex, 'hex')

const rawKeys = new WeakMap<Keys, Uint8Array>()

function publicKeyOf(keys: Keys): Uint8Array {
  const found = rawKeys.get(keys)
  if (found) return found
  const jwk = keys.jwks().keys.find(({ kid }) => kid === keys.kid)
  invariant(jwk?.x, 'the key that signs is published')
  const raw = new Uint8Array(Buffer.from(jwk.x, 'base64url'))
  rawKeys.set(keys, raw)
  return raw
}
