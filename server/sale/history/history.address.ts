import { bytesToHex } from '@noble/hashes/utils.js'
import { type Address, bytes, json } from '#runtime/call/address'
import type { Sight } from '#runtime/queue/turn'
import { findLot } from '../lots/lots.service'
import type { ConsistencyProof } from './history.contract'
import { historyForReaders, lastCheckpoint } from './history.service'
import { hashOfLeaf } from './ledger.rules'
import { consistencyPaths } from './merkle.rules'

/** As many earlier heads as one answer proves to be continued. */
const MOST_PROOFS = 200

function opened(sight: Sight, number = '') {
  const lot = /^[1-9]\d{0,8}$/.test(number) ? findLot(sight, Number(number)) : null
  return lot && lot.ledgerSize > 0 ? lot : null
}

/** The sizes that `?from=3,5,9` names; null for anything else. */
function sizesIn(asked: string | null, size: number): number[] | null {
  if (asked === null || !/^[1-9]\d{0,8}(,[1-9]\d{0,8})*$/.test(asked)) return null
  const sizes = [...new Set(asked.split(',').map(Number))]
  return sizes.length <= MOST_PROOFS && sizes.every((from) => from <= size) ? sizes : null
}

export const biddingAddresses: Address[] = [
  {
    path: '/lots/:number/history.json',
    answer: (sight, { number }) => {
      const lot = opened(sight, number)
      return lot && json(historyForReaders(sight, lot.number))
    },
  },
  {
    path: '/lots/:number/checkpoint',
    answer: (sight, { number }) => {
      const lot = opened(sight, number)
      const checkpoint = lot && lastCheckpoint(sight, lot.id)
      return checkpoint ? bytes('text/plain; charset=utf-8', checkpoint) : null
    },
  },
  {
    path: '/lots/:number/consistency.json',
    reads: ['from'],
    answer: (sight, { number }, query) => {
      const lot = opened(sight, number)
      if (!lot) return null
      const { leaves, heads } = historyForReaders(sight, lot.number)
      const sizes = sizesIn(query.get('from'), leaves.length)
      if (!sizes) return null
      const hashes = leaves.map(hashOfLeaf)
      const paths = consistencyPaths(hashes, sizes)
      const proofs = sizes.map((from, index) => ({ from, path: (paths[index] ?? []).map(bytesToHex) }))
      return json({ lot: lot.number, size: leaves.length, checkpoint: heads.at(-1)?.checkpoint ?? '', proofs } satisfies ConsistencyProof)
    },
  },
]
