import { verifyEd25519 } from '#app/_trust/ed25519.ts'
import { headSigner } from '#app/_trust/head-signers.ts'
import { openNote } from '#sale/history/checkpoint.rules'
import type { NamedHistory } from '#sale/history/compare.rules'
import { type Receipt, receiptsShape } from '#sale/history/history.contract'
import { faultOfKept, faultOfOwn, faultTogether } from '#sale/history/receipt.rules'
import { comparedReceipts } from './compare-receipts'
import { type Finding, type KeysAtHand, type Value, VERDICTS } from './finding'

/** Receipts that somebody kept: each opens what its bid committed to, before the end of the lot and after it. */
export async function checkReceiptsFile(
  name: string,
  value: Value,
  keys: KeysAtHand,
  histories: readonly NamedHistory[],
): Promise<Finding[]> {
  const read = receiptsShape.safeParse(value)
  if (!read.success) return [{ about: name, words: '', ...VERDICTS.changed('It is not a file of receipts as the house gives it.') }]
  const { receipts } = read.data
  if (receipts.length === 0)
    return [{ about: name, words: 'It is a file of receipts, but there is no receipt in it.', ...VERDICTS.nothing() }]
  const verdict = await verdictOn(receipts, keys)
  const lots = [...new Set(receipts.map(({ opening }) => opening.lot))].join(', ')
  const count = new Set(receipts.map(({ opening }) => `${opening.lot} ${opening.sequence}`)).size
  const bids = count === 1 ? 'one bid' : `${count} bids`
  const about: Finding = {
    about: name,
    words: `${receipts.length} receipts of ${bids}, on lots ${lots}. The file itself is not signed, so nothing shows whether a receipt was taken out of it.`,
    ...verdict,
    ...(verdict.tone === 'ok' && { receipts }),
  }
  // What the house did not sign accuses nobody.
  if (verdict.tone !== 'ok') return [about]
  return [about, ...receipts.map((receipt) => opened(name, receipt)), ...comparedReceipts(name, receipts, histories)]
}

async function verdictOn(receipts: readonly Receipt[], { house, brought }: KeysAtHand) {
  for (const receipt of receipts) {
    const fault = faultOfKept(receipt)
    if (fault) return VERDICTS.changed(fault)
  }
  // All at once: the browser's own cryptography takes them one beside the other.
  const signers = await Promise.all(receipts.map((receipt) => signerOf(receipt, { house, brought })))
  const unfit = receipts[signers.findIndex(({ is }) => is === 'unfit')]
  if (unfit) return VERDICTS.changed(`The signature on the receipt of bid ${unfit.opening.sequence} does not fit.`)
  if (signers.some(({ is }) => is === 'unknown'))
    return house.length === 0 ? VERDICTS.untold('No key is at hand. Choose the key set (jwks.json) as well.') : VERDICTS.stranger(null)
  const foreign = signers.find((one) => one.is === 'foreign')
  if (foreign?.is === 'foreign') return VERDICTS.foreign(foreign.kid)
  const wrong = receipts.map(({ opening, leaf }) => faultOfOwn(opening, [leaf])).find((fault) => fault !== null)
  const fault = wrong ?? faultTogether(receipts)
  return fault ? VERDICTS.wrong(fault) : VERDICTS.oursEach()
}

type Signer = { is: 'ours' | 'unfit' | 'unknown' } | { is: 'foreign'; kid: string }

async function signerOf({ checkpoint }: Receipt, { house, brought }: KeysAtHand): Promise<Signer> {
  const note = openNote(checkpoint)
  if (!note) return { is: 'unfit' }
  const own = await headSigner(note, house, verifyEd25519)
  if (own.is === 'signed') return { is: 'ours' }
  if (own.is === 'unfit') return { is: 'unfit' }
  const other = await headSigner(note, brought, verifyEd25519)
  return other.is === 'signed' ? { is: 'foreign', kid: other.kid } : { is: other.is }
}

const opened = (name: string, { opening, leaf }: Receipt): Finding => ({
  tone: 'ok',
  about: name,
  title: `The maximum of bid ${opening.sequence} on lot ${opening.lot} is proved`,
  words: `${opening.alias} allowed ${opening.amountMinor} in the smallest unit of the currency (pence, cents), at ${leaf.at}: that is what the entry in the signed history commits to.`,
})
