import { parseMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import { noteChange } from '#people/changes/changes.service'
import { findPaddle } from '#people/people/people.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { findLot, getLotRow, listLots } from '#sale/lots/lots.service'
import { listSoldLots } from '../journal/sold.service'
import type { LotRelief, LotValueIn, PublishedValue, ReliefDesk, ReliefSwitchIn } from './relief.contract'
import { RELIEF_COUNTRIES, RELIEF_TABLES, type ReliefCountry } from './relief.data'
import { reliefEstimate } from './relief.rules'
import * as store from './relief.store'

const isOn = (sight: Sight, country: ReliefCountry): boolean =>
  store.listSwitches(sight.db).some((row) => row.country === country && row.isOn)

export function switchRelief(turn: Turn, actor: Actor, { country, isOn: on }: ReliefSwitchIn): void {
  store.keepSwitch(turn.db, { country, isOn: on, at: turn.now, byPersonId: actor.personId })
  noteChange(turn, actor, {
    kind: 'terms',
    what: `whether tax relief in ${country} is offered`,
    before: on ? 'no' : 'yes',
    after: on ? 'yes' : 'no',
  })
  turn.record({ kind: on ? 'relief.shown' : 'relief.hidden', subject: 'campaign', body: { country } })
}

/** A value can be published until the lot opens: what is said later was not known beforehand. */
export function publishValue(turn: Turn, actor: Actor, input: LotValueIn): void {
  const row = getLotRow(turn, input.lot)
  if (row.state !== 'draft' && row.state !== 'ready')
    throw Refusal.at('lot', `Lot ${input.lot} has opened. A value counts only if it was published before bidding.`, 'conflict')
  if (input.value === '') store.dropValue(turn.db, row.id)
  else {
    const valueMinor = parseMoney(input.value, getCampaign(turn).currency, 'value')
    if (valueMinor === 0) throw Refusal.at('value', 'Write an amount above zero, or leave it empty for none.')
    if (input.knownFrom.length < 3) throw Refusal.at('knownFrom', 'Say where the price can be seen, such as a shop’s list with its date.')
    store.keepValue(turn.db, { lotId: row.id, valueMinor, knownFrom: input.knownFrom, at: turn.now, byPersonId: actor.personId })
  }
  turn.record({ kind: 'lot.value-published', subject: `lot:${input.lot}`, body: { number: input.lot } })
}

/** The value that was published for a lot; null for most, since a machine made once has none. */
export function publishedValue(sight: Sight, number: number): PublishedValue | null {
  const lot = findLot(sight, number)
  const found = lot && lot.state !== 'draft' ? store.findValue(sight.db, lot.id) : null
  return found && { valueMinor: found.valueMinor, knownFrom: found.knownFrom, currency: getCampaign(sight).currency }
}

/**
 * The estimates for a sold lot: to its buyer by their own country, to treasurer and maker those that are on.
 * Everybody else is answered as if there were none, donors of goods above all.
 */
export function reliefOf(sight: Sight, actor: Actor, number: number): LotRelief[] {
  const sold = listSoldLots(sight).find((each) => each.number === number)
  if (!sold || sold.state === 'fell through' || sold.buyerPersonId === null) return []
  const isBuyer = sold.buyerPersonId === actor.personId
  if (!isBuyer && actor.role !== 'treasurer' && actor.role !== 'maker') return []
  const home = findPaddle(sight, sold.buyerPersonId)?.country
  const row = getLotRow(sight, number)
  const value = store.findValue(sight.db, row.id)
  const { currency } = getCampaign(sight)
  return RELIEF_COUNTRIES.filter((country) => isOn(sight, country) && country === home).map((country) => ({
    currency,
    priceMinor: sold.hammerMinor,
    ...reliefEstimate({
      country,
      currency,
      priceMinor: sold.hammerMinor,
      causeMinor: sold.causeMinor,
      published: value && { valueMinor: value.valueMinor, knownFrom: value.knownFrom },
      estimateHighMinor: row.highMinor,
    }),
  }))
}

export function reliefDesk(sight: Sight, actor: Actor): ReliefDesk {
  return {
    currency: getCampaign(sight).currency,
    countries: RELIEF_COUNTRIES.map((country) => {
      const { name, source, trueOn, conditions } = RELIEF_TABLES[country]
      return { country, name, source, trueOn, conditions, isOn: isOn(sight, country) }
    }),
    lots: listLots(sight).map(({ id, number, title, state }) => {
      const value = store.findValue(sight.db, id)
      const isOpenToChange = state === 'draft' || state === 'ready'
      return { number, title, isOpenToChange, valueMinor: value?.valueMinor ?? null, knownFrom: value?.knownFrom ?? '' }
    }),
    mayWrite: actor.role === 'treasurer' || actor.role === 'maker',
  }
}
