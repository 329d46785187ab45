import { createHash } from 'node:crypto'
import { HOUR } from '#kernel/instant'
import { CURRENCIES, type Minor, MOST_MINOR, showMoney } from '#kernel/money'
import { Refusal } from '#kernel/refusal'
import { type Role, STAFF_ROLES } from '#kernel/role'
import { presentSince } from '#people/campaign/which.service'
import type { Actor, Sight, Turn } from '#runtime/queue/turn'
import { findCampaign, getCampaign } from '../campaign/campaign.service'
import { shortAddress } from '../changes/changes.rules'
import { noteChange } from '../changes/changes.service'
import type { Paddle, SetZoneIn, TakePaddleIn } from './people.contract'
import * as store from './people.store'

/** Common practice: a new paddle may bid up to this many major units until the staff raise it. */
const FIRST_CEILING_MAJOR = 1000
const CEILING_STEP = 4

const hash = (text: string): string => createHash('sha256').update(text).digest('hex')

/** Who has proved that an address is theirs: a stranger becomes a bidder by it. */
export function personOf(turn: Turn, email: string): { personId: string; role: Role } {
  const found = store.findPersonByEmail(turn.db, email)
  if (found) return { personId: found.id, role: found.role }
  const personId = turn.dice.id()
  store.insertPerson(turn.db, { id: personId, name: '', email, role: 'bidder', roleGivenAt: 0, at: turn.now })
  return { personId, role: 'bidder' }
}

export const findPaddle = (sight: Sight, personId: string): Paddle | null => {
  const row = store.findPaddleRow(sight.db, personId)
  return row ? { number: row.number, country: row.country, ceilingMinor: row.ceilingMinor } : null
}

/** The paddle with which somebody bids: they accepted the rules of the present campaign with it. Null before they did. */
export const findBiddingPaddle = (sight: Sight, personId: string): Paddle | null => {
  const row = store.findPaddleRow(sight.db, personId)
  return row && row.rulesAcceptedAt >= presentSince(sight)
    ? { number: row.number, country: row.country, ceilingMinor: row.ceilingMinor }
    : null
}

/** Gives a bidder a paddle, or changes the country it would go to. The email address is confirmed by having signed in. */
export function takePaddle(turn: Turn, actor: Actor, input: TakePaddleIn): Paddle {
  if (actor.role !== 'bidder') throw new Refusal('not-yours-to-do', 'The staff of this sale cannot bid in it.')
  const campaign = findCampaign(turn)
  if (!campaign) throw new Refusal('too-early', 'There is no sale to bid in yet.')
  // What somebody chose themselves is not overwritten by what a browser says.
  const zone = store.findPersonById(turn.db, actor.personId)?.zone ?? input.zone ?? null
  store.updatePerson(turn.db, actor.personId, { name: input.name, zone })
  const before = store.findPaddleRow(turn.db, actor.personId)
  if (before) store.updatePaddle(turn.db, actor.personId, { country: input.country, rulesAcceptedAt: turn.now })
  else {
    const number = store.highestPaddle(turn.db) + 1
    const ceilingMinor = FIRST_CEILING_MAJOR * 10 ** CURRENCIES[campaign.currency].exponent
    store.insertPaddle(turn.db, { personId: actor.personId, number, country: input.country, ceilingMinor, rulesAcceptedAt: turn.now })
    turn.record({ kind: 'paddle.taken', subject: `paddle:${number}`, body: { country: input.country } })
  }
  const paddle = findPaddle(turn, actor.personId)
  if (!paddle) throw new Refusal('not-found', 'That paddle number has just been taken. Try again.')
  return paddle
}

/** Letters say times in this zone from now on. */
export const setZone = (turn: Turn, { personId }: Actor, { zone }: SetZoneIn): void => store.updatePerson(turn.db, personId, { zone })

/** One tap of the staff: what a paddle may bid grows fourfold. */
export function raiseCeiling(turn: Turn, by: Actor, number: number): Paddle {
  const row = store.findPaddleByNumber(turn.db, number)
  if (!row) throw Refusal.at('paddle', 'There is no such paddle.', 'not-found')
  if (row.ceilingMinor >= MOST_MINOR) throw Refusal.at('paddle', 'This paddle can already bid as much as anyone can.', 'conflict')
  const ceilingMinor = Math.min(MOST_MINOR, row.ceilingMinor * CEILING_STEP)
  store.updatePaddle(turn.db, row.personId, { ceilingMinor })
  noteCeiling(turn, by, number, [row.ceilingMinor, ceilingMinor])
  turn.record({ kind: 'paddle.raised', subject: `paddle:${number}`, body: { ceilingMinor } })
  return { number, country: row.country, ceilingMinor }
}

export const listPaddles = (sight: Sight) => store.listPaddleRows(sight.db)

/** Bidders whose email address is still kept. */
export const listBidders = (sight: Sight) => store.listBidderRows(sight.db)

export const listStaff = (sight: Sight) =>
  store.listByRoles(sight.db, STAFF_ROLES).map(({ id, name, email, role }) => ({ personId: id, name, email, role }))

function noteCeiling(turn: Turn, by: Actor, number: number, amounts: readonly [Minor, Minor]): void {
  const { currency } = getCampaign(turn)
  const [before, after] = [showMoney(amounts[0], currency), showMoney(amounts[1], currency)]
  noteChange(turn, by, { kind: 'ceiling', what: `the ceiling of paddle ${number}`, before, after })
}

/** Gives a person a role; someone unknown is added and signs in with a mail code. The last maker stays one. `by` nobody: the house did it. */
export function setRole(turn: Turn, input: { email: string; role: Role; name?: string }, by: Actor | null = null): { personId: string } {
  const before = store.findPersonByEmail(turn.db, input.email)
  if (before?.role === 'maker' && input.role !== 'maker' && store.listByRoles(turn.db, ['maker']).length === 1)
    throw Refusal.at('role', 'This is the only maker. Make somebody else a maker first.')
  if (before && before.role === 'bidder' && input.role !== 'bidder' && store.findPaddleRow(turn.db, before.id))
    throw Refusal.at('email', 'This person holds a paddle and may have bid. Staff need an address that has never bid.')
  const personId = before?.id ?? turn.dice.id()
  // Since when somebody has had a role decides what they may answer for; to be given it again does not make it younger.
  const roleGivenAt = before?.role === input.role ? before.roleGivenAt : turn.now
  const name = input.name ?? before?.name ?? input.email.split('@')[0] ?? input.email
  if (before) store.updatePerson(turn.db, personId, { role: input.role, roleGivenAt, name })
  else store.insertPerson(turn.db, { id: personId, name, email: input.email, role: input.role, roleGivenAt, at: turn.now })
  // Without a name, and of two with one name, the address says who it is.
  const what = `the role of ${name === '' ? shortAddress(input.email) : `${name} (${shortAddress(input.email)})`}`
  noteChange(turn, by, { kind: 'role', what, before: before?.role ?? '', after: input.role })
  turn.record({ kind: 'person.role-given', subject: `person:${personId}`, body: { role: input.role } })
  return { personId }
}

/** For so long the first link may be used; the next start prints another. */
const FIRST_LINK_LIVES = HOUR

/** A fresh one-time link for the first maker, or null when there is one already. Its token stands behind the `#`, which no server or log ever sees. */
export function makeFirstLink(turn: Turn): string | null {
  if (store.listByRoles(turn.db, ['maker']).length > 0) return null
  const token = Buffer.from(turn.dice.bytes(24)).toString('base64url')
  store.insertFirstLink(turn.db, hash(token), turn.now)
  return `${turn.publicUrl}/first#${token}`
}

/** Makes the first maker by the link that the start printed; the link is used up. */
export function makeFirstMaker(turn: Turn, input: { token: string; email: string; name: string }): { personId: string } {
  const link = store.findFirstLink(turn.db, hash(input.token))
  if (!link || link.usedAt !== null || store.listByRoles(turn.db, ['maker']).length > 0)
    throw new Refusal(
      'too-late',
      'This link has been used, or a newer one was printed. Sign in with your email address, or use the newest link.',
    )
  if (turn.now - link.madeAt > FIRST_LINK_LIVES)
    throw new Refusal('too-late', 'This link was only good for an hour. Restart the house and it prints another.')
  store.spendFirstLink(turn.db, hash(input.token), turn.now)
  return setRole(turn, { email: input.email, role: 'maker', name: input.name })
}

/** The people that the demo lets one step into: the staff and the first few bidders. */
export function demoPeople(sight: Sight) {
  const people = [...store.listByRoles(sight.db, STAFF_ROLES), ...store.listByRoles(sight.db, ['bidder']).slice(0, 4)]
  return people.map(({ id, name, role }) => ({ personId: id, name, role, paddle: findPaddle(sight, id)?.number ?? null }))
}

export const findPerson = (sight: Sight, personId: string) => store.findPersonById(sight.db, personId) ?? null

/** Both the setting and the campaign must say so: a real campaign opened with the setting stays closed. */
export const isDemo = ({ isDemo: isSet, sight }: { isDemo: boolean; sight(): Sight }): boolean =>
  isSet && (findCampaign(sight())?.isDemo ?? false)
