import { readStrictJson } from '#kernel/strict-json'
import type { NamedHistory } from '#sale/history/compare.rules'
import { type History, historyShape } from '#sale/history/history.contract'
import { comparedHistories } from './compare-chosen'
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

/** A file that somebody kept, held against what the house shows now. Only the number of the lot is told to the house. */
export async function compareWithLive(kept: NamedHistory): Promise<Finding> {
  const live = await liveHistory(kept.history.lot)
  if ('fault' in live) return { tone: 'doubt', about: kept.name, title: 'It could not be compared', words: live.fault }
  return comparedHistories(kept, { name: 'What the house shows now', history: live.history })
}
