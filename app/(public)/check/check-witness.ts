import { bytesToHex } from '@noble/hashes/utils.js'
import { verifyEd25519 } from '#app/_trust/ed25519.ts'
import { headSigner } from '#app/_trust/head-signers.ts'
import type { PublicKey } from '#bench/certificates/key-set.rules'
import { type OpenedNote, openNote } from '#sale/history/checkpoint.rules'
import type { History } from '#sale/history/history.contract'
import { readShortHead } from '#sale/history/short-head.rules'
import { continues, type Witness } from '#sale/history/witness.rules'
import { checkHistoryFile } from './check-history-file'
import { type Finding, VERDICTS } from './finding'
import { liveHistory, notShown } from './live-history'

/** What was pasted or typed as a witness of an earlier state, with the lot that it is of; in words what is wrong with it. */
export function readWitness(
  written: string,
  lotTyped: string,
): { lot: number; witness: Witness; note: OpenedNote | null } | { fault: string } {
  const text = written.replaceAll('\r\n', '\n').trim()
  if (text === '') return { fault: 'Paste a checkpoint, or type the code that was read out.' }
  if (text.includes('\n')) {
    const opened = openNote(`${text}\n`)
    const lot = opened && /^[^/]+\/lots\/([1-9]\d{0,8})$/.exec(opened.head.origin)?.[1]
    if (!opened || !lot)
      return { fault: 'This is not a whole checkpoint: three lines, an empty line, and the line of the signature that begins with a dash.' }
    return { lot: Number(lot), witness: { size: opened.head.size, rootHex: bytesToHex(opened.head.root) }, note: opened }
  }
  const read = readShortHead(text)
  if ('fault' in read) return read
  if (!/^[1-9]\d{0,8}$/.test(lotTyped.trim())) return { fault: 'Write the number of the lot of which the code was read out, such as 7.' }
  return { lot: Number(lotTyped.trim()), witness: read, note: null }
}

/** Whether the history that the house shows now continues what somebody holds of it. */
export async function checkWitness(written: string, lotTyped: string, house: readonly PublicKey[]): Promise<Finding[] | string> {
  const read = readWitness(written, lotTyped)
  if ('fault' in read) return read.fault
  const about = `Lot ${read.lot}`
  const live = await liveHistory(read.lot)
  if ('fault' in live) return live.isGone ? notThere(about, read, house) : live.fault
  const { findings } = await checkHistoryFile('The history that the house shows now', live.history, { house, brought: [] })
  if (findings[0]?.tone !== 'ok') return findings.slice(0, 1)
  if (read.note === null) return [continued(about, live.history, read.witness)]
  const { origin } = read.note.head
  if (origin !== live.history.origin) return [anotherLot(about, origin, live.history.origin)]
  const signed = await signedBy(about, read.note, house)
  // Anybody can write a checkpoint: without a signature of this house it speaks neither for it nor against it.
  return signed.tone === 'ok' ? [signed, continued(about, live.history, read.witness)] : [signed]
}

/** A witness of a lot of which the house shows nothing: a head that it signed speaks against it, a code that was heard may be of another. */
async function notThere(about: string, { lot, note }: { lot: number; note: OpenedNote | null }, house: readonly PublicKey[]) {
  if (note === null)
    return [
      {
        tone: 'doubt' as const,
        about,
        title: `This house shows no history of lot ${lot}.`,
        words:
          'Look at the number again. If it is the one for which the code was read out, the house has taken away what it showed then: keep the recording.',
        isVerdict: true as const,
      },
    ]
  const signed = await signedBy(about, note, house)
  return signed.tone === 'ok' ? [signed, notShown(about, lot, note.head.origin)] : [signed]
}

function continued(about: string, history: History, witness: Witness): Finding {
  const { isSound, words } = continues(history, witness)
  return {
    tone: isSound ? 'ok' : 'bad',
    about,
    title: isSound ? 'The history shown now continues it.' : 'The history shown now does not continue it.',
    words,
    isVerdict: true,
  }
}

const anotherLot = (about: string, origin: string, own: string): Finding => ({
  tone: 'doubt',
  about: `${about}, checkpoint`,
  title: 'The checkpoint is of another lot, and says nothing of this one.',
  words: `It is of ${origin}; this house shows ${own}. Compare it at the house that gave it.`,
  isVerdict: true,
})

async function signedBy(about: string, note: OpenedNote, house: readonly PublicKey[]): Promise<Finding> {
  const signer = await headSigner(note, house, verifyEd25519)
  const words = `The checkpoint of ${note.head.size} entries of ${note.head.origin}.`
  if (signer.is === 'signed') return { about: `${about}, checkpoint`, words, ...VERDICTS.ours() }
  const verdict = signer.is === 'unfit' ? VERDICTS.changed('The signature does not fit the key that it names.') : VERDICTS.stranger(null)
  return { about: `${about}, checkpoint`, words: `${words} It proves nothing, for this house or against it.`, ...verdict }
}
