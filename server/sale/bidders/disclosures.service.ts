import { Refusal } from '#kernel/refusal'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { getLotRowById } from '../lots/lots.service'
import { getShownRow } from '../lots/shown-lot.service'
import * as store from './bidders.store'
import type { DiscloseIn, Disclosure } from './disclosures.contract'

/** Household and hands-on work bar a person; having given something does not, it is only shown. */
export const isConnected = (sight: Sight, personId: string, lotId: string): boolean => store.isConnected(sight.db, personId, lotId)

/** What a bidder says of being connected, with the whole sale or one lot. It can be added to, never unsaid. */
export function disclose(turn: Turn, { personId, role }: Actor, { lot, kind, words }: DiscloseIn): void {
  if (role !== 'bidder') throw new Refusal('not-yours-to-do', 'The staff of this sale cannot bid in it.')
  if (kind !== 'none' && words === '') throw Refusal.at('words', 'Say in a few words how.')
  const lotId = lot === 0 ? null : getShownRow(turn, lot).id
  const said = store.listDisclosuresOf(turn.db, personId).findLast((one) => one.lotId === lotId)
  if (said?.kind === kind && said.words === words) return
  store.insertDisclosure(turn.db, { id: turn.dice.id(), personId, lotId, kind, words, at: turn.now })
  turn.record({ kind: 'bidder.disclosed', subject: 'disclosures', body: { lot, kind } })
}

export const readDisclosures = (sight: Sight, personId: string): Disclosure[] =>
  store.listDisclosuresOf(sight.db, personId).map(({ lotId, kind, words, at }) => ({
    lot: lotId === null ? null : getLotRowById(sight, lotId).number,
    kind,
    words,
    at,
  }))

/** All that was said, in the order in which it was. */
export const listDisclosures = (sight: Sight) => store.listDisclosures(sight.db)
