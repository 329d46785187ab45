import type { z } from 'zod'
import { Refusal } from '#kernel/refusal'
import { findCampaign } from '#people/campaign/campaign.service'
import { type Actor, once, type Turn } from '#runtime/queue/turn'
import { getPart } from '../catalogue/part.service'
import type { declineIn, promiseIn } from './donor.contract'
import { addDonor, approveDonor, findDonorWithMail, getDonor } from './donor.service'
import { changeGift, type GiftLine, getGift, keepGift, promisesToApprove } from './gift.service'
import { courteousDecline, whereToSend } from './letters.rules'

/** So many waiting for approval are more than a small team can read, or somebody's prank. Common practice. */
const MOST_WAITING = 300
const MOST_WAITING_OF_ONE = 10

/**
 * A promise from anybody who read the wanted list. It shows to nobody but the staff until it is approved; then the
 * giver is told where to send it. The same form sent twice is one promise.
 */
export function promiseGift(turn: Turn, { key, ...promise }: z.output<typeof promiseIn>): { what: string; quantity: number } {
  return once(turn, `promise ${key}`, promise, () => {
    const part = promise.partId === undefined ? null : getPart(turn, promise.partId)
    if (part === null && promise.words === '') throw Refusal.at('words', 'Say what you are offering, or choose a part from the list.')
    const waiting = promisesToApprove(turn)
    const known = findDonorWithMail(turn, promise.mail)
    if (waiting.length >= MOST_WAITING || waiting.filter((line) => line.donorId === known?.id).length >= MOST_WAITING_OF_ONE) {
      throw new Refusal('too-many', 'A lot of promises are waiting to be read just now. Try again in a day or two.')
    }
    const { name, mail, consents } = promise
    // A known address keeps the name and the consents that the staff have: anybody can type an address.
    const donor = known ?? addDonor(turn, null, { name, creditName: name, sayIt: '', contact: mail, anonymity: 'named', consents })
    keepGift(turn, null, {
      donorId: donor.id,
      kind: part === null ? 'extras' : part.kind === 'board' ? 'boards' : part.kind === 'case' ? 'cases' : 'parts',
      partId: part?.id ?? null,
      words: part === null ? promise.words : promise.note,
      quantity: promise.quantity,
      state: 'promised',
      promisedAt: turn.now,
      approved: false,
    })
    return { what: part?.words ?? promise.words, quantity: promise.quantity }
  })
}

/** The staff accept a promise: it shows and counts as promised, and its giver is told where to send it. */
export function approvePromise(turn: Turn, actor: Actor, giftId: string): GiftLine {
  const gift = getGift(turn, giftId)
  if (gift.approved) return gift
  approveDonor(turn, gift.donorId)
  changeGift(turn, actor, gift, 'approval', { approved: true })
  const donor = getDonor(turn, gift.donorId)
  const campaign = findCampaign(turn)
  if (donor.contact !== '') {
    const { subject, body } = whereToSend({
      name: donor.name,
      what: gift.what,
      quantity: gift.quantity,
      campaign: campaign?.name ?? '',
      address: campaign?.partsAddress ?? '',
    })
    turn.post({ to: donor.contact, subject, body })
  }
  return getGift(turn, giftId)
}

/** A gift that is not taken: the reason is kept, and a courteous letter goes to the giver unless they are told by hand. */
export function declinePromise(turn: Turn, actor: Actor, input: z.output<typeof declineIn>): GiftLine {
  const { giftId, reason, byHand, subject, body } = input
  const gift = getGift(turn, giftId)
  if (gift.state !== 'promised' && gift.state !== 'on its way') {
    throw new Refusal('conflict', `It is ${gift.state} already. Once a gift has arrived it can be returned or destroyed, but not declined.`)
  }
  changeGift(turn, actor, gift, 'state', { state: 'declined' }, reason)
  const donor = getDonor(turn, gift.donorId)
  if (!byHand && donor.contact !== '') {
    const draft = courteousDecline({ name: donor.name, what: gift.what, reason, campaign: findCampaign(turn)?.name ?? '' })
    turn.post({ to: donor.contact, subject: subject || draft.subject, body: body || draft.body })
  }
  return getGift(turn, giftId)
}
