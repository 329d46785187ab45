import { createHash } from 'node:crypto'
import { instantOf } from '#kernel/civil'
import { DAY, type Instant } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import { civilIn, sayDay } from '#kernel/wall-clock'
import { hasOpenBusiness } from '#money/sending/open-business.service'
import { findCampaign, getCampaign } from '#people/campaign/campaign.service'
import { inCampaign, presentNumber, presentSince } from '#people/campaign/which.service'
import { findPerson, listBidders } from '#people/people/people.service'
import type { Sweep } from '#runtime/queue/ticker'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { getDonor, listDonors } from '#stock/donors/donor.service'
import { deleteContactsFrom } from './contact-data.service'
import type { AnswerKeepIn, AskToKeepIn, KeepPage, KeepView } from './deletion.contract'
import * as store from './keep.store'
import { keepLetter } from './keep-letter.rules'

/** Whoever is away for a fortnight still has time. Common practice, no source. */
const SOONEST = 14 * DAY
const LATEST = 120 * DAY

const hashOf = (token: string): string => createHash('sha256').update(token).digest('hex')

interface ToAsk {
  donorId: string | null
  personId: string | null
  name: string
  mail: string
  part: string
}

/** Whoever has an address here from an earlier campaign only, and was not asked for the present one. */
function listToAsk(sight: Sight): ToAsk[] {
  const since = presentSince(sight)
  if (since === 0) return []
  const asked = store.listQuestions(sight.db, presentNumber(sight))
  const askedOf = new Set(asked.flatMap(({ donorId, personId }) => donorId ?? personId ?? []))
  const here = new Set([...store.biddersSince(sight.db, since), ...store.donorsSince(sight.db, since)])
  const isToAsk = ({ id }: { id: string }) => !askedOf.has(id) && !here.has(id)
  const donors = listDonors(sight).filter(({ contact, mergedIntoId, isStandIn }) => contact !== '' && mergedIntoId === null && !isStandIn)
  return [
    ...donors.filter(isToAsk).map(({ id, creditName, contact }) => ({
      donorId: id,
      personId: null,
      name: creditName,
      mail: contact,
      part: 'Your gifts were part of',
    })),
    ...listBidders(sight)
      .filter(isToAsk)
      .map(({ id, name, email }) => ({ donorId: null, personId: id, name, mail: email, part: 'You bid in' })),
  ]
}

/** The campaign before the present one. */
const earlierName = (sight: Sight): string => findCampaign(inCampaign(sight, presentNumber(sight) - 1))?.name ?? ''

const dayWords = (at: Instant, zone: string): string => sayDay(civilIn(at, zone), { withYear: true })

/** Who is still to be asked, and how those who were have answered. Null where no campaign came before the present one. */
export function readKeeping(sight: Sight): KeepView | null {
  if (sight.campaign !== undefined || presentSince(sight) === 0) return null
  const { zone, name, causeName } = getCampaign(sight)
  const toAsk = listToAsk(sight)
  const questions = store.listQuestions(sight.db, presentNumber(sight))
  const answered = (answer: 'keep' | 'forget') => questions.filter((one) => one.answer === answer).length
  return {
    zone,
    donors: toAsk.filter(({ donorId }) => donorId !== null).length,
    bidders: toAsk.filter(({ personId }) => personId !== null).length,
    asked: questions.length,
    keep: answered('keep'),
    forget: answered('forget'),
    unanswered: questions.filter(({ answer, forgottenAt }) => answer === null && forgottenAt === null).length,
    forgotten: questions.filter(({ answer, forgottenAt }) => answer === null && forgottenAt !== null).length,
    answerBy: questions.at(-1)?.answerBy ?? null,
    letter: keepLetter({
      name: 'Ines',
      part: 'Your gifts were part of',
      earlier: earlierName(sight),
      campaign: name,
      cause: causeName,
      link: `${sight.publicUrl}/keep#…`,
      answerBy: dayWords(sight.now + SOONEST + DAY, zone),
    }),
  }
}

/** Writes to everybody who is still to be asked. Nobody is written to unless the maker sends it. */
export function askToKeep(turn: Turn, _actor: Actor, { answerBy: day }: AskToKeepIn): { asked: number } {
  const toAsk = listToAsk(turn)
  const { zone, name: campaign, causeName: cause } = getCampaign(turn)
  if (toAsk.length === 0) throw Refusal.at('answerBy', 'Everybody who can be asked has been asked.', 'conflict')
  // Until the day is over.
  const answerBy = instantOf(`${day}T00:00`, zone, 'answerBy') + DAY
  if (answerBy < turn.now + SOONEST) throw Refusal.at('answerBy', 'Give them at least two weeks. Choose a later day.')
  if (answerBy > turn.now + LATEST) throw Refusal.at('answerBy', 'That is more than four months away. Choose an earlier day.')
  const earlier = earlierName(turn)
  for (const { donorId, personId, name, mail, part } of toAsk) {
    const token = Buffer.from(turn.dice.bytes(32)).toString('base64url')
    store.insertQuestion(turn.db, {
      id: turn.dice.id(),
      campaignNumber: presentNumber(turn),
      donorId,
      personId,
      tokenHash: hashOf(token),
      askedAt: turn.now,
      answerBy,
      answer: null,
      answeredAt: null,
      forgottenAt: null,
    })
    // The key stands behind the `#`, which a browser sends to nobody.
    const link = `${turn.publicUrl}/keep#${token}`
    turn.post({ to: mail, ...keepLetter({ name, part, earlier, campaign, cause, link, answerBy: dayWords(answerBy - 1, zone) }) })
  }
  turn.record({ kind: 'contacts.asked', subject: 'contacts', body: { asked: toAsk.length, answerBy } })
  return { asked: toAsk.length }
}

function questionOf(sight: Sight, token: string): store.QuestionRow {
  const found = /^[\w-]{43}$/.test(token) ? store.findQuestion(sight.db, hashOf(token)) : null
  if (!found || found.forgottenAt !== null) throw new Refusal('not-found', 'This link no longer opens anything: we keep nothing about you.')
  return found
}

/** The page of the question, opened by its key. */
export function readKeepPage(sight: Sight, token: string): KeepPage {
  const { donorId, personId, answer, answerBy, campaignNumber } = questionOf(sight, token)
  const campaign = getCampaign(inCampaign(sight, campaignNumber))
  const name = donorId === null ? findPerson(sight, personId ?? '')?.name : getDonor(sight, donorId).creditName
  return { name: name ?? '', campaign: campaign.name, cause: campaign.causeName, zone: campaign.zone, answer, answerBy }
}

/** Yes: they are kept. No: they are forgotten at once, unless something is still owed or on its way, and then as soon as that is done. */
export function answerKeep(turn: Turn, { token, keep }: AnswerKeepIn): { is: 'kept' | 'forgotten' | 'forgotten later' } {
  const question = questionOf(turn, token)
  store.changeQuestion(turn.db, question.id, { answer: keep ? 'keep' : 'forget', answeredAt: turn.now })
  turn.record({ kind: 'contacts.answered', subject: 'contacts', body: { keep } })
  if (keep) return { is: 'kept' }
  return { is: forget(turn, [question]) === 1 ? 'forgotten' : 'forgotten later' }
}

/** Deletes the contact data of these alone. Answers of how many: whoever still owes, waits for a parcel or has reported a problem is not among them. */
function forget(turn: Turn, questions: readonly store.QuestionRow[]): number {
  const going = questions.filter(({ personId }) => personId === null || !hasOpenBusiness(turn, personId))
  if (going.length === 0) return 0
  deleteContactsFrom(turn.db, {
    bidders: { only: going.flatMap(({ personId }) => personId ?? []) },
    donors: { only: going.flatMap(({ donorId }) => donorId ?? []) },
    lots: { only: [] },
    until: 0,
  })
  for (const { id } of going) store.changeQuestion(turn.db, id, { forgottenAt: turn.now })
  turn.record({ kind: 'contacts.forgotten', subject: 'contacts', body: { count: going.length } })
  return going.length
}

/** Whoever did not answer in time is forgotten on the day that their letter named. */
export const keepSweep: Sweep = {
  name: 'who did not ask to be kept',
  nextAt: ({ db }) => store.firstUnanswered(db),
  run: (turn) => {
    const late = store.listUnanswered(turn.db).filter(({ answerBy }) => answerBy <= turn.now)
    forget(turn, late)
    // Who has open business is looked at again with the term of the campaign that it is from.
    for (const { id } of late) store.changeQuestion(turn.db, id, { answer: 'forget', answeredAt: turn.now })
  },
}
