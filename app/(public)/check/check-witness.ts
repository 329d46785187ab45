import { bytesToHex } from '@noble/hashes/utils.js'
import { verifyEd25519 } from '#app/_trust/ed25519.ts'
import { headSigner } from '#app/_trust/head-signers.ts'
import type { PublicKey } from '#bench/certificates/key-set.rules'
import { openNote } from '#sale/history/checkpoint.rules'
import type { History } from '#sale/history/history.contract'
import { readShortHead } from '#sale/history/short-head.rules'
import { continues, type Witness } from '#sale/history/witness.rules'
import { checkHistoryFile } from './check-history-file'
import { type Finding, VERDICTS } from './finding'
import { liveHistory } from './live-history'

/** What was pasted or typed as a witness of an earlier state, with the lot that it is of; in words what is wrong with it. */
export function readWitness(written: string, lotTyped: string): { lot: number; witness: Witness; note: string | null } | { fault: string } {
  const text = written.replaceAll('\r\n', '\n').trim()
  if (text === '') return { fault: 'Paste a checkpoint, or type the code that was read out.' }
  if (text.includes('\n')) {
    const note = `${text}\n`
    const opened = openNote(note)
    const lot = opened && /^[^/]+\/lots\/([1-9]\d{0,8})$/.exec(opened.head.origin)?.[1]
    if (!opened || !lot)
      return { fault: 'This is not a whole checkpoint: three lines, an empty line, and the line of the signature that begins with a dash.' }
    return { lot: Number(lot), witness: { size: opened.head.size, rootHex: bytesToHex(opened.head.root) }, note }
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
  if ('fault' in live) return live.fault
  const shown = (await checkHistoryFile('The history that the house shows now', live.history, { house, brought: [] })).slice(0, 1)
  if (shown[0]?.tone !== 'ok') return shown
  return [...(read.note === null ? [] : [await signedBy(about, read.note, house)]), continued(about, live.history, read.witness)]
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

async function signedBy(about: string, note: string, house: readonly PublicKey[]): Promise<Finding> {
  const opened = openNote(note)
  const signer = opened && (await headSigner(opened, house, verifyEd25519))
  const words = opened ? `The checkpoint of ${opened.head.size} entries of ${opened.head.origin}.` : ''
  if (signer?.is === 'signed') return { about: `${about}, checkpoint`, words, ...VERDICTS.ours() }
  const verdict = signer?.is === 'unfit' ? VERDICTS.changed('The signature does not fit the key that it names.') : VERDICTS.stranger(null)
  return { about: `${about}, checkpoint`, words, ...verdict }
}
