import { createStore, get, update } from 'idb-keyval'
import type { PublicKey } from '#bench/certificates/key-set.rules'
import { readStrictJson } from '#kernel/strict-json'
import { openNote } from '#sale/history/checkpoint.rules'
import { consistencyShape, type Receipt } from '#sale/history/history.contract'
import { faultOfContinuing } from '#sale/history/receipt.rules'
import { verifyEd25519 } from './ed25519'
import { headSigner } from './head-signers'
import { knownKeys } from './known-keys'

/** Receipts of one's bids, kept on this device: what the house cannot take back. */
const PLACE = 'receipts'
const MOST_AT_ONCE = 200
const shelf = () => createStore('tagstrip-receipts', 'kept')

export async function keptReceipts(): Promise<Receipt[]> {
  try {
    return (await get<Receipt[]>(PLACE, shelf())) ?? []
  } catch {
    // A browser in private use may keep nothing.
    return []
  }
}

/** Keeps receipts beside those that are there; true when they are kept. */
export async function keepReceipts(receipts: readonly Receipt[]): Promise<boolean> {
  try {
    await update<Receipt[]>(
      PLACE,
      (before = []) => {
        const known = new Set(before.map(({ checkpoint }) => checkpoint))
        return [...before, ...receipts.filter(({ checkpoint }) => !known.has(checkpoint))]
      },
      shelf(),
    )
    return true
  } catch {
    // As above: the receipts can be saved as a file instead.
    return false
  }
}

/**
 * Kept receipts by the house that gave them: this one, when a key that it publishes now signed them. Another house may have stood at
 * this address before, and its receipts say nothing about this one.
 */
export async function byHouse(all: readonly Receipt[], published: readonly PublicKey[]): Promise<{ own: Receipt[]; other: Receipt[] }> {
  const [own, other]: [Receipt[], Receipt[]] = [[], []]
  for (const receipt of all) {
    const note = openNote(receipt.checkpoint)
    const isOwn = note !== null && (await headSigner(note, published, verifyEd25519)).is === 'signed'
    ;(isOwn ? own : other).push(receipt)
  }
  return { own, other }
}

export type Watched = { is: 'continued'; receipts: number } | { is: 'unable'; words: string } | { is: 'contradicted'; words: string }

/** Holds the receipts of one lot that are kept here against the newest head that the house shows. */
export async function watchLot(lot: number, keys: readonly PublicKey[], all: readonly Receipt[]): Promise<Watched> {
  const receipts = all.filter(({ opening }) => opening.lot === lot).slice(-MOST_AT_ONCE)
  if (receipts.length === 0) return { is: 'continued', receipts: 0 }
  try {
    const sizes = [...new Set(receipts.map(({ size }) => size))]
    const answer = await fetch(`/lots/${lot}/consistency.json?from=${sizes.join(',')}`, { cache: 'no-store' })
    if (answer.status === 404)
      return {
        is: 'contradicted',
        words: `The house shows no history of lot ${lot} that is as long as the one you were shown. Keep your receipts.`,
      }
    if (!answer.ok) return { is: 'unable', words: 'The house could not say it now.' }
    const proof = consistencyShape.parse(readStrictJson(await answer.text()))
    const note = openNote(proof.checkpoint)
    if (!note || (await headSigner(note, keys, verifyEd25519)).is !== 'signed')
      return { is: 'contradicted', words: `The newest head of lot ${lot} is not signed by a key of this house. Keep your receipts.` }
    const fault = faultOfContinuing(receipts, proof)
    return fault ? { is: 'contradicted', words: fault } : { is: 'continued', receipts: receipts.length }
  } catch (reason) {
    if (reason instanceof TypeError) return { is: 'unable', words: 'There is no connection.' }
    return { is: 'contradicted', words: `What the house shows of lot ${lot} cannot be read as a proof. Keep your receipts.` }
  }
}

/** After a bid: keeps its receipt, and holds all that are kept of the lot against the newest head. What contradicts them, in words, or null. */
export async function keepAndWatch(receipt: Receipt): Promise<string | null> {
  await keepReceipts([receipt])
  const published = (await knownKeys(Date.now())).keys.filter(({ isPublished }) => isPublished)
  const ofLot = (await keptReceipts()).filter(({ opening }) => opening.lot === receipt.opening.lot)
  const { own } = await byHouse(ofLot, published)
  const watched = await watchLot(receipt.opening.lot, published, own)
  return watched.is === 'contradicted' ? watched.words : null
}
