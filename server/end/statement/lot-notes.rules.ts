import { type Minor, showMoney, splitMoney } from '#kernel/money'
import { roundedWords } from '#money/journal/rounding.rules'
import type { SoldLot } from '#money/journal/sold.contract'
import type { Account, LotNote } from './account.contract'

/** A sold lot as the books have it, with what its page tells of the way there. */
export interface LotTold
  extends Pick<
    SoldLot,
    'number' | 'state' | 'by' | 'fellAtMinor' | 'hammerMinor' | 'causeMinor' | 'shareBp' | 'postageMinor' | 'receivedMinor' | 'owedMinor'
  > {
  /** The price of the contract that was made last, before anything was let go of it. */
  agreedMinor: Minor
  /** Bids on it were voided before it closed. */
  isVoided: boolean
}

/** Why a lot stands in the account at another figure than the one at which its hammer fell, or with less than it comes to: a sentence for each reason. */
export function lotNotes(lots: readonly LotTold[], currency: Account['currency']): LotNote[] {
  const show = (minor: Minor) => showMoney(minor, currency)
  return lots.flatMap((lot) => [...priceNotes(lot, show), ...paidNotes(lot, show)].map((words) => ({ lot: lot.number, words })))
}

type Show = (minor: Minor) => string

const BY = { hammer: '', underbidder: 'by a contract of its own with another bidder', 'fixed price': 'at a fixed price' } as const

function priceNotes({ state, by, fellAtMinor, hammerMinor, agreedMinor, isVoided }: LotTold, show: Show): string[] {
  const notes: string[] = []
  if (isVoided) notes.push('Bids on it were voided before it closed; its price is what the other bids led to.')
  if (by !== 'hammer') {
    const first = fellAtMinor > 0 ? `The hammer fell at ${show(fellAtMinor)}, and that sale fell through` : 'No hammer fell on it'
    notes.push(`${first}; it was then sold for ${show(agreedMinor)}, ${BY[by]}.`)
  }
  if (state === 'fell through') {
    const what = by === 'hammer' ? `The hammer fell at ${show(fellAtMinor)}. The` : 'That'
    notes.push(`${what} sale fell through, so nothing of it counts.`)
  } else if (hammerMinor !== agreedMinor) {
    const [from, to] = [show(agreedMinor), show(hammerMinor)]
    notes.push(`Its price was lowered after the sale, from ${from} to ${to}.`)
  }
  return notes
}

function paidNotes({ state, hammerMinor, causeMinor, postageMinor, receivedMinor, owedMinor }: LotTold, show: Show): string[] {
  if (state !== 'part paid') return []
  const priceMinor = Math.max(0, receivedMinor - postageMinor)
  const cause = splitMoney(priceMinor, [causeMinor, hammerMinor - causeMinor])[0] ?? 0
  return [
    `${show(receivedMinor)} of ${show(receivedMinor + owedMinor)} was paid. It covers the postage first, then ${show(priceMinor)} of the price, of which the cause has ${show(cause)}.`,
  ]
}

/** Where a share was rounded, lot by lot, and what that comes to in all; empty where nothing was. */
export function roundingNotes(lots: readonly LotTold[], currency: Account['currency']): string[] {
  const each = lots.flatMap(({ number, hammerMinor, causeMinor, shareBp }) => {
    const words = roundedWords({ priceMinor: hammerMinor, shareBp, causeMinor, currency })
    return words === null ? [] : [`Lot ${number}: ${words}`]
  })
  if (each.length === 0) return []
  const shares = [...new Set(lots.map(({ shareBp }) => shareBp))]
  const [shareBp] = shares
  const sum = (key: 'hammerMinor' | 'causeMinor') => lots.reduce((all, lot) => all + lot[key], 0)
  const whole = { priceMinor: sum('hammerMinor'), causeMinor: sum('causeMinor'), currency }
  const show = (minor: Minor) => showMoney(minor, currency)
  const inAll =
    shareBp === undefined || shares.length > 1
      ? []
      : [
          `In all: ${roundedWords({ ...whole, shareBp }) ?? `${shareBp / 100} % of ${show(whole.priceMinor)} is ${show(whole.causeMinor)}.`}`,
        ]
  return ['Each price is split between the cause and the seller by the largest remainder, so that no penny is lost.', ...each, ...inAll]
}
