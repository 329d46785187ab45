import { createHash } from 'node:crypto'
import type { Instant } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import { findCampaign } from '#people/campaign/campaign.service'
import { campaignNumber } from '#people/campaign/which.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { listDonors } from '#stock/donors/donor.service'
import type { Packer } from '../packs/packer'
import { listPacksWithContacts } from '../packs/packs.service'
import { expressionFor, isAmong, STAYS } from './contact-data.rules'
import { deleteContactsFrom } from './contact-data.service'
import * as contacts from './contact-data.store'
import type { DataFolder } from './data-folder'
import type { ContactsView, CopiesView, Deleted, DeletionIn } from './deletion.contract'
import * as store from './deletion.store'
import { goingNow } from './going.service'
import { lettersOf } from './letters-of.rules'
import { contactDays, contactsDueAt, whyNotYet } from './term.service'

/** What would be deleted, of whom, and what stays and why. Nothing is changed by looking. */
export function readContacts(sight: Sight): ContactsView {
  const { db } = sight
  const going = goingNow(sight)
  const steps = contacts
    .stepsOf(db, going)
    .map((step) => ({ key: step.key, what: step.what, count: contacts.countStep(db, step) }))
    .filter(({ count }) => count > 0)
  const wanted = expressionFor(contacts.knownAddresses(db, going))
  const found = wanted ? [...contacts.findTexts(db, wanted)] : []
  const inJournal = found.filter(({ table }) => table === 'entry').map(({ text }) => text)
  const bidders = contacts.biddersGoing(db, going)
  const donors = listDonors(sight)
    .filter(({ id, contact }) => contact !== '' && isAmong(id, going.donors))
    .map(({ id, name, contact }) => ({ id, name, mail: contact }))
  const photographs = contacts.photographsGoing(db, going).length
  return {
    campaign: findCampaign(sight)?.name ?? '',
    zone: findCampaign(sight)?.zone ?? 'UTC',
    days: contactDays(sight),
    dueAt: contactsDueAt(sight),
    refusedBecause: whyNotYet(sight),
    steps,
    photographs,
    bidders,
    donors,
    stays: [...STAYS],
    inJournal,
    deletions: store.listDeletions(db).filter((one) => one.campaignNumber === campaignNumber(sight)),
    shown: createHash('sha256')
      .update(JSON.stringify([steps, photographs, bidders, donors]))
      .digest('hex'),
  }
}

/** When contact data was deleted last; null where it never was. */
export const deletedAt = (sight: Sight): Instant | null => store.listDeletions(sight.db)[0]?.at ?? null

/** Which copies in the data folder hold contact data, so that whoever deletes it knows of them. */
export const readCopies = (sight: Sight, packer: Packer, folder: DataFolder): CopiesView => ({
  backups: folder.backups(),
  packs: listPacksWithContacts(sight, packer),
})

/**
 * Deletes contact data in one turn, or nothing of it. It is refused where what would be deleted is not what was shown any more, and
 * where the campaign's name was not typed. What lies outside the database is cleared afterwards, by `clearFiles`.
 */
export function deleteContacts(turn: Turn, actor: Actor, input: DeletionIn): Deleted {
  const view = readContacts(turn)
  if (view.refusedBecause) throw Refusal.at('typed', view.refusedBecause, 'too-early')
  if (lettersOf(input.typed) !== lettersOf(view.campaign))
    throw Refusal.at('typed', `Type the campaign’s name exactly as it is shown here: ${view.campaign}.`)
  if (input.shown !== view.shown)
    throw Refusal.at('typed', 'What would be deleted has changed since you looked. Reload the page and check again.', 'conflict')
  const deleted = deleteContactsFrom(turn.db, goingNow(turn))
  const { counts } = deleted
  store.insertDeletion(turn.db, {
    id: turn.dice.id(),
    at: turn.now,
    byPersonId: actor.personId,
    counts,
    campaignNumber: campaignNumber(turn),
  })
  turn.record({ kind: 'contacts.deleted', subject: 'contacts', body: { counts } })
  return deleted
}

/** After the turn in which contact data was deleted: packs that hold it, photographs and the free space of the database are cleared too. */
export function clearFiles(sight: Sight, packer: Packer, folder: DataFolder, { photographs }: Deleted): void {
  for (const fileName of listPacksWithContacts(sight, packer)) packer.remove(fileName)
  folder.scrub(photographs)
}
