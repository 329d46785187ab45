import { listRuns } from '#bench/units/units.service'
import { getCampaign } from '#people/campaign/campaign.service'
import { inEveryCampaign } from '#people/campaign/which.service'
import { findPerson } from '#people/people/people.service'
import type { Actor, Sight } from '#runtime/queue/turn'
import { listLots } from '#sale/lots/lots.service'
import { type JournalRow, readJournal } from '../journal/entries.service'
import type { Account, CostBearer } from '../journal/journal.rules'
import { sendingCosts } from '../journal/sending-costs.rules'
import { listSoldLots } from '../journal/sold.service'
import { unplacedSums } from '../journal/unplaced.rules'
import { readPromises } from '../matching/matching.service'
import { proceeds } from '../proceeds/proceeds.service'
import type { Books, CostLine, JournalLine, UnplacedLine } from './books.contract'
import { findVariance, sumStatement } from './statement.rules'

/** All the views of the money side by side: the meter, the sums with their variance, the journal, and what waits. */
export function readBooks(sight: Sight, actor: Actor): Books {
  const campaign = getCampaign(sight)
  const entries = readJournal(sight)
  const lots = listLots(sight)
  const sold = listSoldLots(sight)
  const promises = readPromises(sight)
  const hammered = lots.flatMap(({ id, number, state, hammerMinor }) =>
    state === 'sold' && hammerMinor !== null ? [{ id, number, hammerMinor }] : [],
  )
  const statement = {
    currency: campaign.currency,
    causeName: campaign.causeName,
    causeRegistration: campaign.causeRegistration,
    at: sight.now,
    lots: sold,
    ...sumStatement(
      sold,
      entries,
      promises.reduce((sum, { dueMinor }) => sum + dueMinor, 0),
    ),
    sendingCostMinor: [...sendingCosts(entries).values()].reduce((sum, minor) => sum + minor, 0),
    ...findVariance(hammered, entries, campaign.currency),
  }
  const lotNumber = new Map(lots.map(({ id, number }) => [id, number]))
  const runs = listRuns(sight)
  return {
    meter: proceeds(sight),
    statement,
    journal: journalLines(sight, entries, lotNumber),
    unplaced: unplacedLines(sight, entries, lotNumber),
    costs: costLines(entries, lotNumber, new Map(runs.map(({ id, tagPrefix }) => [id, tagPrefix]))),
    promises,
    runs: runs.map(({ id, tagPrefix, design }) => ({ id, words: `${tagPrefix}, ${design}` })),
    mayWrite: actor.role === 'treasurer',
  }
}

/** The journal of every campaign, for what the account at the bank has seen. */
export const readWholeJournal = (sight: Sight): JournalLine[] =>
  inEveryCampaign(sight, (seen) => journalLines(seen, readJournal(seen), new Map(listLots(seen).map(({ id, number }) => [id, number]))))

type Numbers = ReadonlyMap<string, number>

function journalLines(sight: Sight, entries: readonly JournalRow[], lotNumber: Numbers): JournalLine[] {
  const byId = new Map(entries.map((entry) => [entry.id, entry]))
  const correctedBy = new Map(entries.flatMap((entry) => (entry.correctsId === null ? [] : [[entry.correctsId, entry] as const])))
  return entries.map((entry): JournalLine => {
    const corrects = entry.correctsId === null ? null : byId.get(entry.correctsId)
    const correction = correctedBy.get(entry.id)
    return {
      id: entry.id,
      at: entry.at,
      valueOn: entry.valueOn,
      kind: entry.kind,
      memo: entry.memo,
      reference: entry.reference,
      lot: entry.lotId === null ? null : (lotNumber.get(entry.lotId) ?? null),
      by: entry.byPersonId === null ? null : (findPerson(sight, entry.byPersonId)?.name ?? null),
      corrects: corrects ? { id: corrects.id, memo: corrects.memo } : null,
      correctedBy: correction ? { id: correction.id, at: correction.at } : null,
      postings: [...entry.postings],
    }
  })
}

function unplacedLines(sight: Sight, entries: readonly JournalRow[], lotNumber: Numbers): UnplacedLine[] {
  const byId = new Map(entries.map((entry) => [entry.id, entry]))
  return unplacedSums(entries).flatMap(({ entryId, amountMinor, leftMinor }): UnplacedLine[] => {
    const origin = byId.get(entryId)
    if (!origin || leftMinor <= 0) return []
    return [
      {
        entryId,
        at: origin.at,
        valueOn: origin.valueOn,
        memo: origin.memo,
        reference: origin.reference,
        payer: origin.personId === null ? null : (findPerson(sight, origin.personId)?.name ?? null),
        lot: origin.lotId === null ? null : (lotNumber.get(origin.lotId) ?? null),
        isOwedBack: origin.kind === 'release',
        amountMinor,
        leftMinor,
      },
    ]
  })
}

const BEARER_OF = { 'cost-to-seller': 'seller', 'cost-to-cause': 'cause', 'cost-of-sending': 'postage' } as const satisfies Partial<
  Record<Account, CostBearer>
>
const bearerOf = (account: Account): CostBearer | null => (account in BEARER_OF ? BEARER_OF[account as keyof typeof BEARER_OF] : null)

/** Costs and fees that stand: what was taken back is not among them. */
function costLines(entries: readonly JournalRow[], lotNumber: Numbers, runTag: ReadonlyMap<string, string>): CostLine[] {
  const takenBack = new Set(entries.map(({ correctsId }) => correctsId))
  return entries.flatMap((entry): CostLine[] => {
    if ((entry.kind !== 'cost' && entry.kind !== 'fee') || entry.about === '') return []
    if (entry.correctsId !== null || takenBack.has(entry.id)) return []
    const line = entry.postings.find(({ account }) => bearerOf(account) !== null)
    const bearer = line && bearerOf(line.account)
    if (!bearer) return []
    return [
      {
        entryId: entry.id,
        valueOn: entry.valueOn,
        memo: entry.memo,
        about: entry.about,
        bearer,
        isFee: entry.kind === 'fee',
        lot: entry.lotId === null ? null : (lotNumber.get(entry.lotId) ?? null),
        run: entry.runId === null ? null : (runTag.get(entry.runId) ?? null),
        amountMinor: line.amountMinor,
      },
    ]
  })
}
