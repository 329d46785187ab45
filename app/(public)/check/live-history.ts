import type { PublicKey } from '#bench/certificates/key-set.rules'
import { groupBy } from '#kernel/group'
import { readStrictJson } from '#kernel/strict-json'
import type { NamedHistory } from '#sale/history/compare.rules'
import { type History, historyShape, type Receipt } from '#sale/history/history.contract'
import { checkHistoryFile } from './check-history-file'
import { comparedWithShown } from './compare-chosen'
import { comparedReceipts, originOf } from './compare-receipts'
import type { Finding } from './finding'

/** The history of a lot as the house shows it now, or why it cannot be had, in words. `isGone`: the house says that there is none. */
export async function liveHistory(lot: number): Promise<{ history: History } | { fault: string; isGone?: true }> {
  try {
    const answer = await fetch(`/lots/${lot}/history.json`, { cache: 'no-store' })
    if (answer.status === 404) return { fault: `This house shows no history of lot ${lot}.`, isGone: true }
    if (!answer.ok) return { fault: 'The house could not give the history. Try again in a moment.' }
    return { history: historyShape.parse(readStrictJson(await answer.text())) }
  } catch (reason) {
    if (reason instanceof TypeError)
      return { fault: 'There is no connection, so the history that the house shows now could not be fetched.' }
    return { fault: 'What the house shows for this lot is not a history.' }
  }
}

const SHOWN = 'What the house shows now'

/** What the house signed of a lot of which it shows nothing now. At another address than that of the lot, that says nothing. */
export const notShown = (about: string, lot: number, origin: string): Finding =>
  origin === `${location.host}/lots/${lot}`
    ? {
        tone: 'bad',
        about,
        title: `The house shows nothing of lot ${lot} any more`,
        words: `It signed what you hold of ${origin}, and answers now that there is no history of that lot. A history is never taken away: keep the file.`,
      }
    : {
        tone: 'doubt',
        about,
        title: `Lot ${lot} could not be compared`,
        words: `What you hold is of ${origin}; here, at ${location.host}, there is no history of lot ${lot}. Compare it at the house that gave it.`,
      }

/** What the house shows now of a lot, if its keys signed it and it holds; or what is wrong with it. `origin`: of what it is held against. */
async function shownNow(about: string, lot: number, origin: string, house: readonly PublicKey[]): Promise<NamedHistory | Finding> {
  const live = await liveHistory(lot)
  if ('fault' in live)
    return live.isGone
      ? notShown(about, lot, origin)
      : { tone: 'doubt', about, title: `Lot ${lot} could not be compared`, words: live.fault }
  const { findings, ours } = await checkHistoryFile(SHOWN, { ...live.history }, { house, brought: [] })
  const verdict = findings.find(({ isVerdict }) => isVerdict)
  if (ours && verdict?.tone === 'ok') return { name: SHOWN, history: ours }
  const tone = verdict?.tone === 'doubt' ? 'doubt' : 'bad'
  return { tone, about, title: `What the house shows now of lot ${lot} cannot be relied on`, words: verdict?.title ?? '' }
}

/** A file that somebody kept, held against what the house shows now. Only the number of the lot is told to the house. */
export async function compareWithLive(kept: NamedHistory, house: readonly PublicKey[]): Promise<Finding[]> {
  const shown = await shownNow(kept.name, kept.history.lot, kept.history.origin, house)
  return ['tone' in shown ? shown : comparedWithShown(kept, shown)]
}

/** Receipts held against what the house shows now of each of their lots. Only the numbers of the lots are told to the house. */
export async function compareReceiptsWithLive(name: string, receipts: readonly Receipt[], house: readonly PublicKey[]): Promise<Finding[]> {
  const found = await Promise.all(
    [...groupBy(receipts, originOf)].map(async ([origin, own]) => {
      const shown = await shownNow(name, own[0]?.opening.lot ?? 0, origin, house)
      return 'tone' in shown ? [shown] : comparedReceipts(name, own, [shown])
    }),
  )
  return found.flat()
}
