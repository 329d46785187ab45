import { createHash } from 'node:crypto'
import type { Db } from '#db/open'
import { civilOf } from '#kernel/civil'
import { DAY, type Instant } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import { findCampaign } from '#people/campaign/campaign.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { listLots } from '#sale/lots/lots.service'
import { listDonors } from '#stock/donors/donor.service'
import { listWords } from '#stock/donors/gift.rules'
import { anyOf, STAYS } from './forget.rules'
import * as forget from './forget.store'
import type { ContactsView, ForgetIn, Forgotten, TermIn } from './keeping.contract'
import * as store from './keeping.store'

/** When the campaign's term for contact data is over; null before there is a campaign. */
export function contactsDueAt(sight: Sight): Instant | null {
  const campaign = findCampaign(sight)
  return campaign && campaign.streamClosesAt + store.contactDays(sight.db) * DAY
}

export function setTerm(turn: Turn, _actor: Actor, { days }: TermIn): { days: number } {
  store.keepTerm(turn.db, days)
  turn.record({ kind: 'keeping.term-set', subject: 'keeping', body: { days } })
  return { days }
}

/** What would be deleted, of whom, and what stays and why. Nothing is changed by looking. */
export function readContacts(sight: Sight): ContactsView {
  const { db } = sight
  const steps = forget
    .stepsOf(db)
    .map((step) => ({ key: step.key, what: step.what, count: forget.countStep(db, step) }))
    .filter(({ count }) => count > 0)
  const wanted = anyOf(forget.knownAddresses(db))
  const found = wanted ? [...forget.findTexts(db, wanted)] : []
  const kept = found.filter(({ table }) => table === 'entry')
  const bidders = forget.biddersGoing(db)
  const donors = listDonors(sight)
    .filter(({ contact }) => contact !== '')
    .map(({ id, name, contact }) => ({ id, name, mail: contact }))
  const photographs = forget.photographsGoing(db).length
  const dueAt = contactsDueAt(sight)
  return {
    campaign: findCampaign(sight)?.name ?? '',
    zone: findCampaign(sight)?.zone ?? 'UTC',
    days: store.contactDays(db),
    dueAt,
    refusedBecause: whyNotYet(sight, dueAt),
    steps,
    photographs,
    bidders,
    donors,
    stays: [...STAYS],
    inJournal: kept.map(({ text }) => text),
    deletions: store.listDeletions(db),
    shown: createHash('sha256')
      .update(JSON.stringify([steps, photographs, bidders, donors]))
      .digest('hex'),
  }
}

function whyNotYet(sight: Sight, dueAt: Instant | null): string | null {
  const campaign = findCampaign(sight)
  if (!campaign || dueAt === null) return 'There is no campaign yet.'
  const open = listLots(sight).filter(({ state }) => state === 'open' || state === 'held')
  if (open.length > 0)
    return `${
      open.length === 1
        ? `Lot ${open[0]?.number} is`
        : `Lots ${listWords(
            open.map(({ number }) => String(number)),
            'and',
          )} are`
    } still open: their bidders have to be reached.`
  if (sight.now < dueAt)
    return `The term is not over: contact data is kept until ${civilOf(dueAt, campaign.zone).replace('T', ' at ')}. Change the term if it should be shorter.`
  return null
}

/**
 * Deletes contact data in one turn, or nothing of it. What was shown must still be what there is; the campaign's name is typed.
 * Answers the photographs whose files are to go as well.
 */
export function forgetContacts(turn: Turn, actor: Actor, input: ForgetIn): Forgotten {
  const view = readContacts(turn)
  if (view.refusedBecause) throw Refusal.at('typed', view.refusedBecause, 'too-early')
  if (input.typed.trim() !== view.campaign) throw Refusal.at('typed', `Type the campaign’s name as it stands here: ${view.campaign}.`)
  if (input.shown !== view.shown)
    throw Refusal.at('typed', 'What would be deleted has changed since you looked. Reload the page and look again.', 'conflict')
  const { counts, photographs } = forgetAll(turn.db)
  store.insertDeletion(turn.db, { id: turn.dice.id(), at: turn.now, byPersonId: actor.personId, counts })
  turn.record({ kind: 'keeping.contacts-deleted', subject: 'keeping', body: { counts } })
  return { counts, photographs }
}

/** The same on a copy of the house, for a pack without contact data. Answers the photographs that stay out of it. */
export const forgetInCopy = (db: Db): Set<string> => new Set(forgetAll(db).photographs)

function forgetAll(db: Db): Forgotten {
  forget.overwriteDeleted(db)
  const wanted = anyOf(forget.knownAddresses(db))
  const photographs = forget.photographsGoing(db)
  const counts: Record<string, number> = {}
  for (const step of forget.stepsOf(db)) {
    const changed = forget.doStep(db, step)
    if (changed > 0) counts[step.what] = changed
  }
  forget.dropPhotographs(db, photographs)
  // Whatever else an address was typed into: notes, reasons, facts. What is found is written over after all has been found.
  const found = wanted ? [...forget.findTexts(db, wanted)] : []
  const written = wanted ? found.filter((cell) => forget.writeOver(db, cell, wanted)).length : 0
  if (written > 0) counts['addresses that stood in other texts'] = written
  return { counts, photographs }
}
