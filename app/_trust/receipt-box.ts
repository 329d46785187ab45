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
  const isOwn = await Promise.all(
    all.map(async ({ checkpoint }) => {
      const note = openNote(checkpoint)
      return note !== null && (await headSigner(note, published, verifyEd25519)).is === 'signed'
    }),
  )
  return { own: all.filter((_, index) => isOwn[index]), other: all.filter((_, index) => !isOwn[index]) }
}

type Held = { is: 'continued' } | { is: 'unable'; words: string } | { is: 'contradicted'; words: string }

/** How many receipts of this house were held against what it shows, and how many of another house lie beside them. */
export type Watched = Held & { receipts: number; ofOthers: number }

/**
 * Holds the receipts of one lot that are kept here against the newest head that the house shows. A head that the newest one continues
 * is of this house, whoever signed it, so the signatures of kept heads are looked at only where one is not continued.
 */
export async function watchLot(lot: number, keys: readonly PublicKey[], all: readonly Receipt[]): Promise<Watched> {
  const receipts = all.filter(({ opening }) => opening.lot === lot).slice(-MOST_AT_ONCE)
  const held = await hold(lot, keys, receipts)
  if (held.is !== 'contradicted') return { ...held, receipts: receipts.length, ofOthers: 0 }
  const { own, other } = await byHouse(receipts, keys)
  const again = other.length === 0 ? held : await hold(lot, keys, own)
  return { ...again, receipts: own.length, ofOthers: other.length }
}

async function hold(lot: number, keys: readonly PublicKey[], receipts: readonly Receipt[]): Promise<Held> {
  if (receipts.length === 0) return { is: 'continued' }
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
    return fault ? { is: 'contradicted', words: fault } : { is: 'continued' }
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
  const watched = await watchLot(receipt.opening.lot, published, ofLot)
  return watched.is === 'contradicted' ? watched.words : null
}
