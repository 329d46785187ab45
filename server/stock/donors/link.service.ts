import { createHash } from 'node:crypto'
import { type Instant, MINUTE } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import { findCampaign } from '#people/campaign/campaign.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { type DonorCard, findDonorWithMail, getDonor } from './donor.service'
import * as store from './link.store'
import { privateLinkLetter } from './link-letter.rules'

/** A donor who has lost the mail asks again; more often than this it is somebody else's joke. Common practice. */
const ASKED_AGAIN_AFTER = 10 * MINUTE

const TOKEN = /^[\w-]{43}$/
const hashOf = (token: string): string => createHash('sha256').update(token).digest('hex')

/**
 * A new key to a donor's own page: 32 random bytes, of which only the hash is kept. Earlier keys stop opening it.
 * The key stands behind the `#` of its address, which a browser sends to nobody: no server, proxy or log sees it.
 */
export function makeLink(turn: Turn, actor: Actor | null, donorId: string): string {
  const donor = getDonor(turn, donorId)
  if (donor.isStandIn || donor.mergedIntoId !== null) throw new Refusal('conflict', 'First say who this donor is.')
  const token = Buffer.from(turn.dice.bytes(32)).toString('base64url')
  store.closeLinks(turn.db, donorId, turn.now)
  store.insertLink(turn.db, {
    id: turn.dice.id(),
    donorId,
    tokenHash: hashOf(token),
    madeAt: turn.now,
    byPersonId: actor?.personId ?? null,
    closedAt: null,
  })
  turn.record({ kind: 'donor-link.made', subject: `donor:${donorId}`, body: { donorId } })
  return `${turn.publicUrl}/yours#${token}`
}

/** Mails a donor the way to their own page. */
export function mailLink(turn: Turn, actor: Actor | null, donorId: string): void {
  const donor = getDonor(turn, donorId)
  if (donor.contact === '') throw Refusal.at('contact', `We have no email address for ${donor.name}. Add one, or make a link to hand over.`)
  const link = makeLink(turn, actor, donorId)
  turn.post({ to: donor.contact, ...privateLinkLetter({ name: donor.creditName, campaign: findCampaign(turn)?.name ?? '', link }) })
}

/** Asked from outside: whoever it is, the answer is the same, so that nobody learns who is a donor. */
export function askLinkAgain(turn: Turn, mail: string): void {
  const donor = findDonorWithMail(turn, mail)
  if (!donor?.approved || donor.isStandIn) return
  const latest = store.latestLink(turn.db, donor.id)
  if (latest && turn.now - latest.madeAt < ASKED_AGAIN_AFTER) return
  mailLink(turn, null, donor.id)
}

export function closeLink(turn: Turn, donorId: string): void {
  if (store.closeLinks(turn.db, donorId, turn.now) > 0)
    turn.record({ kind: 'donor-link.closed', subject: `donor:${donorId}`, body: { donorId } })
}

/** Whose page a key opens. One refusal for every key that does not. */
export function whoseLink(sight: Sight, token: string): DonorCard {
  const row = TOKEN.test(token) ? store.findLinkRow(sight.db, hashOf(token)) : undefined
  if (!row) throw new Refusal('not-found', 'This link no longer opens a page. Ask for a new one below and we email it to you.')
  return getDonor(sight, row.donorId)
}

/** When the link that opens a donor's page now was made; null when there is none. */
export const linkMadeAt = (sight: Sight, donorId: string): Instant | null => store.latestLink(sight.db, donorId)?.madeAt ?? null

export const moveLinks = (turn: Turn, fromDonorId: string, toDonorId: string): void => store.giveLinks(turn.db, fromDonorId, toDonorId)
