import type { PublicKey } from '#bench/certificates/key-set.rules'
import { groupBy } from '#kernel/group'
import { readStrictJson } from '#kernel/strict-json'
import type { NamedHistory } from '#sale/history/compare.rules'
import { type History, historyShape, type Receipt } from '#sale/history/history.contract'
import { checkHistoryFile } from './check-history-file'
import { comparedWithShown } from './compare-chosen'
import { comparedReceipts } from './compare-receipts'
import type { Finding } from './finding'

/** The history of a lot as the house shows it now, or why it cannot be had, in words. */
export async function liveHistory(lot: number): Promise<{ history: History } | { fault: string }> {
  try {
    const answer = await fetch(`/lots/${lot}/history.json`, { cache: 'no-store' })
    if (answer.status === 404) return { fault: `This house shows no history of lot ${lot}.` }
    if (!answer.ok) return { fault: 'The house could not give the history. Try again in a moment.' }
    return { history: historyShape.parse(readStrictJson(await answer.text())) }
  } catch (reason) {
    if (reason instanceof TypeError)
      return { fault: 'There is no connection, so the history that the house shows now could not be fetched.' }
    return { fault: 'What the house shows as the history of this lot is none.' }
  }
}

const SHOWN = 'What the house shows now'

/** What the house shows now of a lot, if its keys signed it and it holds; or what is wrong with it. */
async function shownNow(about: string, lot: number, house: readonly PublicKey[]): Promise<NamedHistory | Finding> {
  const live = await liveHistory(lot)
  if ('fault' in live) return { tone: 'doubt', about, title: `Lot ${lot} could not be compared`, words: live.fault }
  const { findings, ours } = await checkHistoryFile(SHOWN, { ...live.history }, { house, brought: [] })
  const verdict = findings.find(({ isVerdict }) => isVerdict)
  if (ours && verdict?.tone === 'ok') return { name: SHOWN, history: ours }
  const tone = verdict?.tone === 'doubt' ? 'doubt' : 'bad'
  return { tone, about, title: `What the house shows now of lot ${lot} cannot be relied on`, words: verdict?.title ?? '' }
}

/** A file that somebody kept, held against what the house shows now. Only the number of the lot is told to the house. */
export async function compareWithLive(kept: NamedHistory, house: readonly PublicKey[]): Promise<Finding[]> {
  const shown = await shownNow(kept.name, kept.history.lot, house)
  return ['tone' in shown ? shown : comparedWithShown(kept, shown)]
}

/** Receipts held against what the house shows now of each of their lots. Only the numbers of the lots are told to the house. */
export async function compareReceiptsWithLive(name: string, receipts: readonly Receipt[], house: readonly PublicKey[]): Promise<Finding[]> {
  const found = await Promise.all(
    [...groupBy(receipts, ({ opening }) => opening.lot)].map(async ([lot, own]) => {
      const shown = await shownNow(name, lot, house)
      return 'tone' in shown ? [shown] : comparedReceipts(name, own, [shown])
    }),
  )
  return found.flat()
}
