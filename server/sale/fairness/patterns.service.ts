import { findPaddle, findPerson } from '#people/people/people.service'
import type { Sight } from '#runtime/queue/turn'
import { listVoidedAliases } from '../bidders/aliases.service'
import { listDisclosures } from '../bidders/disclosures.service'
import { listRetractions } from '../bidders/retractions.service'
import { listAllBids } from '../bids/bids.service'
import { getLotRowById } from '../lots/lots.service'
import type { Pattern } from './fairness.contract'
import * as store from './fairness.store'
import { type Found, patternsIn } from './patterns.rules'

const WORDS: Record<Found['kind'], string> = {
  connected: 'bid, and also said that they are connected.',
  pushing: 'leads nowhere; every bid pushed the price of one and the same other.',
  device: 'bid from one browser.',
  address: 'bid from one network. Households, clubs and offices share one too.',
  retractions: 'asked to withdraw a bid.',
}

/** What deserves a look, with the evidence, for the maker. The program never acts on it. */
export function readPatterns(sight: Sight): Pattern[] {
  const numbers = new Map<string, number>()
  const lotOf = (lotId: string): number => {
    const number = numbers.get(lotId) ?? getLotRowById(sight, lotId).number
    numbers.set(lotId, number)
    return number
  }
  const voided = new Set(listVoidedAliases(sight).map(({ lotId, personId }) => `${lotId} ${personId}`))
  const found = patternsIn({
    traces: store.listTraces(sight.db).map(({ lotId, ...one }) => ({ ...one, lot: lotOf(lotId) })),
    bids: listAllBids(sight)
      .filter(({ lotId, personId }) => !voided.has(`${lotId} ${personId}`))
      .map(({ lotId, personId, sequence, maximumMinor }) => ({ personId, sequence, maximumMinor, lot: lotOf(lotId) })),
    retractions: listRetractions(sight).map(({ lotId, personId, reason }) => ({ personId, reason, lot: lotOf(lotId) })),
    connected: listDisclosures(sight).flatMap(({ personId, lotId, kind, words }) =>
      kind === 'household' || kind === 'worked' ? [{ personId, kind, words, lot: lotId === null ? null : lotOf(lotId) }] : [],
    ),
  })
  const nameOf = (id: string) => ({ paddle: findPaddle(sight, id)?.number ?? null, name: findPerson(sight, id)?.name ?? '' })
  return found.map(({ kind, people, evidence }) => ({
    kind,
    people: people.map(nameOf),
    words: WORDS[kind],
    evidence: evidence.map(({ lot, words }) => ({ lot, words })),
  }))
}
