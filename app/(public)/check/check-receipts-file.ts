import { bytesToHex } from '@noble/hashes/utils.js'
import { verifyEd25519 } from '#app/_trust/ed25519.ts'
import { headSigner } from '#app/_trust/head-signers.ts'
import { openNote } from '#sale/history/checkpoint.rules'
import type { NamedHistory } from '#sale/history/compare.rules'
import { type Receipt, receiptsShape } from '#sale/history/history.contract'
import { faultOfKept } from '#sale/history/receipt.rules'
import { continues } from '#sale/history/witness.rules'
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
  if (receipts.length === 0) return [{ about: name, words: 'It is a file of receipts, and no receipt is in it.', ...VERDICTS.nothing() }]
  const verdict = await verdictOn(receipts, keys)
  const lots = [...new Set(receipts.map(({ opening }) => opening.lot))].join(', ')
  const about: Finding = {
    about: name,
    words: `${receipts.length} receipts, of lots ${lots}.`,
    ...verdict,
  }
  // What the house did not sign accuses nobody.
  if (verdict.tone !== 'ok') return [about]
  return [about, ...receipts.map((receipt) => opened(name, receipt)), ...against(name, receipts, histories)]
}

async function verdictOn(receipts: readonly Receipt[], { house, brought }: KeysAtHand) {
  let foreign: string | null = null
  for (const receipt of receipts) {
    const fault = faultOfKept(receipt)
    const note = openNote(receipt.checkpoint)
    if (fault || !note) return VERDICTS.changed(fault ?? 'A head of it cannot be read.')
    const own = await headSigner(note, house, verifyEd25519)
    if (own.is === 'signed') continue
    const other = own.is === 'unfit' ? own : await headSigner(note, brought, verifyEd25519)
    if (other.is === 'unfit') return VERDICTS.changed(`The signature on the receipt of bid ${receipt.opening.sequence} does not fit.`)
    if (other.is === 'unknown')
      return house.length === 0 ? VERDICTS.untold('No key is at hand. Choose the key set (jwks.json) as well.') : VERDICTS.stranger(null)
    foreign = other.kid
  }
  return foreign === null ? VERDICTS.ours() : VERDICTS.foreign(foreign)
}

const opened = (name: string, { opening, leaf }: Receipt): Finding => ({
  tone: 'ok',
  about: name,
  title: `The maximum of bid ${opening.sequence} on lot ${opening.lot} is proved`,
  words: `${opening.alias} allowed ${opening.amountMinor} in the smallest unit of the currency (pence, cents), at ${leaf.at}: that is what the entry in the signed history commits to.`,
})

/** Each receipt's head has to be one of every history of its lot that was chosen with it. */
function against(name: string, receipts: readonly Receipt[], histories: readonly NamedHistory[]): Finding[] {
  return receipts.flatMap(({ checkpoint, opening }): Finding[] => {
    const head = openNote(checkpoint)?.head
    if (!head) return []
    return histories.flatMap(({ name: ofHistory, history }): Finding[] => {
      if (history.origin !== head.origin) return []
      const { isSound, words } = continues(history, { size: head.size, rootHex: bytesToHex(head.root) })
      if (isSound) return []
      return [
        { tone: 'bad', about: `${name}, ${ofHistory}`, title: `The history contradicts the receipt of bid ${opening.sequence}`, words },
      ]
    })
  })
}
