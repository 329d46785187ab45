import { bytesToHex } from '@noble/hashes/utils.js'
import { groupBy } from '#kernel/group'
import { checkHistory } from '#sale/history/check-history.rules'
import { openNote } from '#sale/history/checkpoint.rules'
import type { NamedHistory } from '#sale/history/compare.rules'
import type { Receipt } from '#sale/history/history.contract'
import { faultOfOwn } from '#sale/history/receipt.rules'
import { continues } from '#sale/history/witness.rules'
import type { Finding } from './finding'

/** Which lot of which house a receipt is of: `house.example/lots/7`. */
export const originOf = ({ checkpoint }: Receipt): string => openNote(checkpoint)?.head.origin ?? ''

/** Receipts held against every history of their lots, and of which lots there is none to hold them against. */
export function comparedReceipts(name: string, receipts: readonly Receipt[], histories: readonly NamedHistory[]): Finding[] {
  const ofLots = groupBy(receipts, originOf)
  const isOf =
    (origin: string) =>
    ({ history }: NamedHistory): boolean =>
      history.origin === origin
  const compared = [...ofLots].flatMap(([origin, own]) => histories.filter(isOf(origin)).flatMap((one) => comparedWith(name, own, one)))
  const alone = [...ofLots.keys()].filter((origin) => !histories.some(isOf(origin)))
  return alone.length === 0 ? compared : [...compared, notCompared(name, alone, histories)]
}

/** Each receipt's head has to be one of the history, and the history has to fit the maxima that the receipts open. */
export function comparedWith(name: string, own: readonly Receipt[], { name: ofHistory, history }: NamedHistory): Finding[] {
  const about = `${name}, ${ofHistory}`
  const contradicted = own.flatMap(({ checkpoint, opening }): Finding[] => {
    const head = openNote(checkpoint)?.head
    const found = head && continues(history, { size: head.size, rootHex: bytesToHex(head.root) })
    if (!found || found.isSound) return []
    return [{ tone: 'bad', about, title: `The history contradicts the receipt of bid ${opening.sequence}`, words: found.words }]
  })
  if (contradicted.length > 0) return contradicted
  const unfit = own.flatMap(({ opening }): Finding[] => {
    const words = faultOfOwn(opening, history.leaves)
    return words ? [{ tone: 'bad', about, title: `The history does not fit the maximum of bid ${opening.sequence}`, words }] : []
  })
  if (unfit.length > 0) return unfit
  const openings = own.map(({ opening }) => opening)
  const wrong = checkHistory(history, openings).find(({ isSound }) => !isSound)
  if (wrong) return [{ tone: 'bad', about, title: 'With the maxima of the receipts, the history does not hold', words: wrong.words }]
  const sequences = new Set(openings.map(({ sequence }) => sequence))
  const bids = sequences.size === 1 ? 'The one bid' : `All ${sequences.size} bids`
  const aliases = new Set(openings.map(({ alias }) => alias))
  const without = history.leaves.flatMap((leaf) =>
    leaf.kind === 'bid' && aliases.has(leaf.alias) && !sequences.has(leaf.sequence) ? [leaf.sequence] : [],
  )
  const more = without.length === 0 ? '' : ` Under the same aliases it has bids without a receipt in the file: ${without.join(', ')}.`
  return [
    {
      tone: 'ok',
      about,
      title: `The history of lot ${history.lot} fits the receipts`,
      words: `${bids} of the file stand in it as they were signed, and its prices fit the maxima that the receipts open.${more}`,
    },
  ]
}

function notCompared(name: string, origins: readonly string[], histories: readonly NamedHistory[]): Finding {
  const namesake = histories.find(({ history }) => origins.some((origin) => origin.endsWith(`/lots/${history.lot}`)))
  const other = namesake ? ` ${namesake.name} is the history of ${namesake.history.origin}, which is another lot.` : ''
  return {
    tone: namesake ? 'doubt' : 'info',
    about: name,
    title: 'Not compared with a history',
    words: `No history of ${origins.join(', ')} was chosen, so whether these bids still stand there is not known yet.${other} Compare them with what the house shows now, or choose the history that you kept together with the receipts.`,
  }
}
