import { randomBytes } from 'node:crypto'
import { eq } from 'drizzle-orm'
import { chain, passkey, problem, pushDevice, session } from '#db/schema/index'
import { HOUR } from '#kernel/instant'
import { insertOffer } from '#money/invoices/invoices.store'
import { listSoldLots } from '#money/journal/sold.service'
import { changeConsignment } from '#money/sending/sending.store'
import { setRole } from '#people/people/people.service'
import type { Actor } from '#runtime/queue/turn'
import { getLotRow } from '#sale/lots/lots.service'
import { makeLink } from '#stock/donors/link.service'
import type { openStageDoor } from '#test/doors/web/open-door'
import { makeDonor } from '#test/make/shelf'
import type { Stage } from '#test/stage'
import type { Ownership, Things } from './owners'

type Door = Awaited<ReturnType<typeof openStageDoor>>

/** Whoever asks: by the role that they have now, or by how they come without one. */
export const IDENTITIES = [
  'visitor',
  'donor by link',
  'bidder',
  'buyer',
  'volunteer',
  'host',
  'treasurer',
  'maker',
  'whoever was a maker and has signed out',
  'whoever was a host and is none any more',
] as const
export type Identity = (typeof IDENTITIES)[number]

/** What an identity counts as where only the role decides. */
export const roleOf = (identity: Identity) => {
  if (identity === 'buyer' || identity === 'whoever was a host and is none any more') return 'bidder'
  if (identity === 'visitor' || identity === 'donor by link' || identity === 'whoever was a maker and has signed out') return null
  return identity
}

const madeUp = 'no such thing'

/** In a house whose lots have ended: things of one buyer and of another, a draft, and a cookie for each identity. */
export async function makeOwned(stage: Stage, door: Door) {
  const sold = listSoldLots(stage.sight()).filter(({ buyerPersonId, state }) => buyerPersonId !== null && state !== 'fell through')
  const first = sold[0]
  const second = sold.find(({ buyerPersonId }) => buyerPersonId !== first?.buyerPersonId)
  if (!first || !second) throw new Error('the story sold nothing to two people')

  async function thingsOf({ number, buyerPersonId }: { number: number; buyerPersonId: string | null }, donorId: string): Promise<Things> {
    const personId = buyerPersonId ?? ''
    const who: Actor = { personId, role: 'bidder', name: 'A buyer', email: '' }
    const lotId = getLotRow(stage.sight(), number).id
    await stage.command((turn) => changeConsignment(turn.db, lotId, { sentAt: turn.now - HOUR, carrier: 'Harbour Post' }))
    await stage.callerOf(who).sending.report({ key: `a problem with lot ${number}`, lot: number, words: 'It came with a dent.' })
    const problemId = stage.db.select().from(problem).where(eq(problem.lotId, lotId)).get()?.id ?? ''
    const { passkeyId, deviceId, offerId, eitherOr, link } = await stage.command((turn) => {
      const ids = { passkeyId: turn.dice.id(), deviceId: turn.dice.id(), offerId: turn.dice.id(), eitherOr: turn.dice.id() }
      const device = { publicKey: 'p', credentialID: ids.passkeyId, counter: 0, deviceType: 'singleDevice', backedUp: false }
      turn.db
        .insert(passkey)
        .values({ id: ids.passkeyId, name: 'A key', userId: personId, ...device, createdAt: new Date() })
        .run()
      const told = { endpoint: `https://push.example.org/${ids.deviceId}`, p256dh: 'p', auth: 'a', key: 'k', name: 'A phone' }
      turn.db
        .insert(pushDevice)
        .values({ id: ids.deviceId, personId, ...told, at: turn.now })
        .run()
      const terms = {
        title: 'T',
        unit: 'U',
        seller: 'S',
        sellerKind: 'private',
        cause: 'C',
        shareBp: 1,
        cancelWords: '',
        country: 'GB',
        dueDays: 7,
      } as const
      const price = { priceMinor: 5000, postageMinor: 0, terms, madeAt: turn.now, madeByPersonId: null, openUntil: turn.now + HOUR }
      insertOffer(turn.db, { id: ids.offerId, lotId, personId, ...price })
      turn.db.insert(chain).values({ id: ids.eitherOr, personId, mostWins: 1, at: turn.now }).run()
      return { ...ids, link: makeLink(turn, null, donorId) }
    })
    const treasurer = await stage.as('treasurer')
    const waiting = (await treasurer.documents.desk()).waiting.flatMap(({ lots }) => lots.map(({ lot }) => lot))
    if (waiting.includes(number))
      await treasurer.documents.issue({
        key: `the invoice of lot ${number}`,
        lots: [number],
        name: 'A buyer',
        address: '2 Quay Lane, Harbour',
      })
    await door.sessionOf(personId)
    const sessionId = stage.db.select().from(session).where(eq(session.userId, personId)).get()?.id ?? ''
    return {
      lot: number,
      problemId,
      offerId,
      eitherOr,
      eitherOrLot: number,
      sessionId,
      passkeyId,
      deviceId,
      token: link.split('#')[1] ?? '',
    }
  }

  const maker = await stage.as('maker')
  const [donor, other] = [await makeDonor(stage), await makeDonor(stage, 'Odd Berg', { contact: 'odd@berg.example' })]
  const things: Record<Ownership, Things> = {
    mine: await thingsOf(first, donor.id),
    another: await thingsOf(second, other.id),
    none: {
      lot: 9_999,
      problemId: madeUp,
      offerId: madeUp,
      eitherOr: madeUp,
      eitherOrLot: 9_999,
      sessionId: madeUp,
      passkeyId: madeUp,
      deviceId: madeUp,
      token: randomBytes(32).toString('base64url'),
    },
  }
  // A link of somebody else's that was closed; who holds one that is open is its donor.
  await maker.yours.closeLinks({ donorId: other.id })
  const draft = (await maker.lots.start({ unit: (await maker.lots.startable())[0] ?? '' })).number

  const buyer = first.buyerPersonId ?? ''
  const bystander = await stage.actor('bidder', 'Bystander')
  const left = await door.sessionOf((await stage.actor('maker')).personId)
  await stage.house.signIn.close(left)
  const wasHost = await stage.actor('host', 'Was host')
  const taken = await door.sessionOf(wasHost.personId)
  await stage.command((turn) => setRole(turn, { email: wasHost.email, role: 'bidder' }))
  const cookieOf = async (identity: Identity): Promise<string> => {
    if (identity === 'visitor' || identity === 'donor by link') return ''
    if (identity === 'whoever was a maker and has signed out') return left
    if (identity === 'whoever was a host and is none any more') return taken
    if (identity === 'buyer') return door.sessionOf(buyer)
    if (identity === 'bidder') return door.sessionOf(bystander.personId)
    return door.sessionOf((await stage.actor(identity, `One ${identity}`)).personId)
  }
  const cookies = new Map<Identity, string>()
  for (const identity of IDENTITIES) cookies.set(identity, await cookieOf(identity))
  return {
    things,
    draft,
    cookieOf: (identity: Identity): string => cookies.get(identity) ?? '',
  }
}
