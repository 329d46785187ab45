import type { z } from 'zod'
import { currentCertificate } from '#bench/certificates/standing.service'
import { groupBy } from '#kernel/group'
import { showMoney } from '#kernel/money'
import { getCampaign } from '#people/campaign/campaign.service'
import type { Sight, Turn } from '#runtime/queue/turn'
import { askNaming, type DonorCard, setConsent } from '#stock/donors/donor.service'
import { giftChanges, giftsOf } from '#stock/donors/gift.service'
import { whoseLink } from '#stock/donors/link.service'
import { becameSentence, givenWords, type OutcomeLot, raisedBy, raisedWords } from '../outcome/outcome.rules'
import { outcomesOf } from '../outcome/outcome.service'
import type { SoldLot, YourGift, Yours, yourConsentIn, yourNamingIn } from './yours.contract'

/** A donor's own page, opened by its key. It is made of that donor's gifts alone and names nobody else. */
export const readYours = (sight: Sight, token: string): Yours => pageOf(sight, whoseLink(sight, token))

function pageOf(sight: Sight, donor: DonorCard): Yours {
  const campaign = getCampaign(sight)
  const gifts = giftsOf(sight, donor.id)
  const outcomes = new Map(outcomesOf(sight, gifts).map((outcome) => [outcome.giftId, outcome]))
  const changes = groupBy(
    giftChanges(
      sight,
      gifts.map(({ id }) => id),
    ),
    ({ giftId }) => giftId,
  )
  const money = (minor: number) => showMoney(minor, campaign.currency)
  const all = raisedBy([...outcomes.values()])
  const { askedCreditName, askedSayIt } = donor
  return {
    campaign: campaign.name,
    cause: campaign.causeName,
    currency: campaign.currency,
    zone: campaign.zone,
    creditName: donor.creditName,
    sayIt: donor.sayIt,
    asked: askedCreditName === null ? null : { creditName: askedCreditName, sayIt: askedSayIt ?? '' },
    anonymity: donor.anonymity,
    consents: donor.consents,
    raised: all && { lots: all.lots, minor: all.minor },
    gifts: gifts.flatMap((gift): YourGift[] => {
      const outcome = outcomes.get(gift.id)
      if (!outcome) return []
      const raised = raisedBy([outcome])
      const ended = changes.get(gift.id)?.findLast(({ what, now }) => what === 'state' && now === gift.state)
      const isOver = gift.state === 'declined' || gift.state === 'returned' || gift.state === 'destroyed'
      return [
        {
          what: gift.amountMinor === null ? givenWords(outcome) : `${money(gift.amountMinor)}, ${gift.what}`,
          kind: gift.kind,
          quantity: gift.quantity,
          state: gift.state,
          promisedAt: gift.promisedAt,
          arrivedAt: gift.arrivedAt,
          // What is said of a suspect batch inside the house is no word to its giver; what was declined was told to them.
          reason: isOver && gift.state !== 'destroyed' ? (ended?.reason ?? '') : '',
          sentences: [gift.arrivedAt === null ? '' : becameSentence(outcome), raised ? raisedWords(raised, money) : ''].filter(Boolean),
          machines: outcome.machines.map(({ unitId, tag, designators, lot }) => ({
            tag,
            designators,
            hasRecord: currentCertificate(sight, unitId) !== null,
            lot: lot && shown(lot),
          })),
          withLots: outcome.withLots.flatMap((lot) => shown(lot) ?? []),
        },
      ]
    }),
  }
}

/** A draft is nobody's business yet. */
const shown = ({ number, title, state, hammerMinor, standsMinor }: OutcomeLot): SoldLot | null =>
  state === 'draft' ? null : { number, title, state, hammerMinor, ...(standsMinor !== undefined && { standsMinor }) }

export function setYourConsent(turn: Turn, { token, use, given }: z.output<typeof yourConsentIn>): Yours {
  const { id: donorId } = whoseLink(turn, token)
  setConsent(turn, null, { donorId, use, given })
  return readYours(turn, token)
}

/** Being hidden takes effect at once; a name as they would have it, once the staff have read it. */
export function setYourNaming(turn: Turn, { token, ...asked }: z.output<typeof yourNamingIn>): Yours {
  askNaming(turn, whoseLink(turn, token).id, asked)
  return readYours(turn, token)
}
