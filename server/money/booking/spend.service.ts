import { listRuns } from '#bench/units/units.service'
import { showMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { getCampaign } from '#people/campaign/campaign.service'
import { type Actor, once, type Sight, type Turn } from '#runtime/queue/turn'
import { listLots } from '#sale/lots/lots.service'
import { heldForCause } from '../journal/covering.rules'
import { readJournal } from '../journal/entries.service'
import type { Written } from '../journal/entry.contract'
import { costPostings, remittancePostings } from '../journal/journal.rules'
import { writeEntry } from '../journal/journal.service'
import { type OnPaper, onPaper } from '../journal/typed.service'
import type { CostIn, FeeIn, RemittanceIn } from './booking.contract'

export const recordCost = (turn: Turn, actor: Actor, input: CostIn): Written =>
  once(turn, input.key, input, () => {
    const { what, about, bearer, paidFrom, lot, runId } = input
    return bookCost(turn, { ...onPaper(turn, actor, input), what, about, bearer, paidFrom, lot, runId })
  })

type Cost = OnPaper & Pick<CostIn, 'what' | 'about' | 'bearer' | 'paidFrom' | 'lot' | 'runId'>

/** Money was spent: for a lot, for a batch of machines, or for all of it. For other rooms too, inside their own turn. */
export function bookCost(turn: Turn, { amountMinor, what, about, bearer, paidFrom, lot, runId, ...paper }: Cost): Written {
  if (bearer === 'cause') refuseBeyondHeld(turn, amountMinor)
  if (runId && !listRuns(turn).some(({ id }) => id === runId))
    throw Refusal.at('runId', 'There is no such batch of machines. Reload the page.', 'not-found')
  const entryId = writeEntry(turn, {
    ...paper,
    kind: 'cost',
    postings: costPostings(amountMinor, bearer, paidFrom),
    memo: `Cost: ${what}`,
    about,
    ...forWhat(turn, lot),
    runId: runId || null,
  })
  return { entryId }
}

export const recordFee = (turn: Turn, actor: Actor, input: FeeIn): Written =>
  once(turn, input.key, input, () => {
    const { to, bearer, lot } = input
    return bookFee(turn, { ...onPaper(turn, actor, input), to, bearer, lot })
  })

type Fee = OnPaper & Pick<FeeIn, 'to' | 'bearer' | 'lot'>

/** What a provider of payments, or a bank, kept for itself. For other rooms too, inside their own turn. */
export function bookFee(turn: Turn, { amountMinor, to, bearer, lot, ...paper }: Fee): Written {
  if (bearer === 'cause') refuseBeyondHeld(turn, amountMinor)
  const entryId = writeEntry(turn, {
    ...paper,
    kind: 'fee',
    postings: costPostings(amountMinor, bearer, 'bank'),
    memo: `Fee of ${to}`,
    about: 'other',
    ...forWhat(turn, lot),
  })
  return { entryId }
}

export const recordRemittance = (turn: Turn, actor: Actor, input: RemittanceIn): Written =>
  once(turn, input.key, input, () => bookRemittance(turn, onPaper(turn, actor, input)))

/** Money was sent on to the cause: never more than has come in for it. For other rooms too, inside their own turn. */
export function bookRemittance(turn: Turn, { amountMinor, ...paper }: OnPaper): Written {
  refuseBeyondHeld(turn, amountMinor)
  const postings = remittancePostings(amountMinor)
  return { entryId: writeEntry(turn, { ...paper, kind: 'remittance', postings, memo: 'Passed on to the cause' }) }
}

function forWhat(sight: Sight, number: number | undefined): { lotId?: string; lotNumber?: number } {
  if (number === undefined) return {}
  const lot = listLots(sight).find((each) => each.number === number)
  if (!lot) throw Refusal.at('lot', `There is no lot ${number}.`, 'not-found')
  return { lotId: lot.id, lotNumber: lot.number }
}

function refuseBeyondHeld(sight: Sight, amountMinor: number): void {
  const held = Math.max(0, heldForCause(readJournal(sight)))
  if (amountMinor <= held) return
  throw Refusal.at('amount', `Only ${showMoney(held, getCampaign(sight).currency)} has come in for the cause and is not yet sent on.`)
}
