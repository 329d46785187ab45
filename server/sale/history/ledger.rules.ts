import { bytesToHex, concatBytes, hexToBytes, utf8ToBytes } from '@noble/hashes/utils.js'
import canonicalize from 'canonicalize'
import { invariant } from '#kernel/invariant'
import type { Minor } from '#kernel/money'
import { sha256 } from '#kernel/sha256'
import type { Leaf } from './history.contract'
import { leafHash } from './merkle.rules'

/** The bytes that are hashed: JSON in the canonical form of RFC 8785. */
export function leafBytes(leaf: Leaf | Record<string, unknown>): Uint8Array {
  const text = canonicalize(leaf)
  invariant(text !== undefined, 'a leaf has a canonical form')
  return utf8ToBytes(text)
}

export const hashOfLeaf = (leaf: Leaf | Record<string, unknown>): Uint8Array => leafHash(leafBytes(leaf))

const BID_TAG = 'tagstrip/maximum/v1'
const RESERVE_TAG = 'tagstrip/reserve/v1'
/** Random bytes that keep an amount from being guessed out of its commitment. */
export const NONCE_BYTES = 32

export interface Sealed {
  lot: number
  alias: string
  sequence: number
  amountMinor: Minor
  /** 32 random bytes in hex. */
  nonce: string
}

/**
 * SHA-256(tag ‖ lot ‖ alias ‖ sequence ‖ amount in minor units ‖ 32 random bytes), in hex. Text in UTF-8, numbers in
 * decimal, a zero byte after each part before the random ones, so that no two readings give the same bytes.
 */
export const commitmentTo = (sealed: Sealed): string => commit(BID_TAG, sealed)

/** The same for the reserve, which nobody bid: no alias, sequence nought, a tag of its own. */
export const reserveCommitmentTo = (lot: number, amountMinor: Minor, nonce: string): string =>
  commit(RESERVE_TAG, { lot, alias: '', sequence: 0, amountMinor, nonce })

function commit(tag: string, { lot, alias, sequence, amountMinor, nonce }: Sealed): string {
  const text = utf8ToBytes(`${tag}\0${lot}\0${alias}\0${sequence}\0${amountMinor}\0`)
  const random = hexToBytes(nonce)
  invariant(random.length === NONCE_BYTES, 'a commitment has 32 random bytes')
  return bytesToHex(sha256(concatBytes(text, random)))
}
