import type { Role } from '#kernel/role'

/** What stands in for a thing when it is asked for: the buyer's own, that of somebody else, and one that is not there. */
export const OWNERSHIPS = ['mine', 'another', 'none'] as const
export type Ownership = (typeof OWNERSHIPS)[number]

/** Things that belong to somebody, one for each ownership. */
export interface Things {
  lot: number
  problemId: string
  offerId: string
  eitherOr: string
  eitherOrLot: number
  sessionId: string
  passkeyId: string
  deviceId: string
  token: string
}

export interface Owned {
  /** Whose it is: the buyer's, or that of the donor who holds its link. */
  whose: 'buyer' | 'donor'
  /** Who of the staff has to do with it all the same. */
  staff?: readonly Role[]
  input(things: Things, key: string): unknown
}

/**
 * To whom belongs what a procedure answers or changes, wherever not the role alone decides that:
 * `everybody's` answers everybody alike, `own` takes no name of a thing and knows only what belongs to whoever asks.
 * A procedure that is open to more than some of the staff and stands in no line fails the suite.
 */
export type Line = 'everybody’s' | 'own' | 'shown lot' | 'its own proof' | Owned

const buyers = (input: Owned['input'], ...staff: Role[]): Owned => ({ whose: 'buyer', staff, input })
const donors = (input: Owned['input']): Owned => ({ whose: 'donor', input })

const ADDRESS = { name: 'Ada Quill', street: '2 Quay Lane', place: 'Harbour', postcode: 'HA1 2QL', country: 'GB', telephone: '' }

export const OWNERS: Record<string, Line> = {
  // What a bidder asks of a lot: a draft is nobody's business yet, and is to them as if it were not there.
  'bidding.askRetraction': 'shown lot',
  'bidding.disclose': 'shown lot',
  'bidding.frame': 'shown lot',
  'bidding.history': 'shown lot',
  'bidding.mySide': 'shown lot',
  'bidding.place': 'shown lot',
  'bidding.remind': 'shown lot',
  'credits.forLot': 'shown lot',
  'eitherOr.make': 'shown lot',
  'fixedPrice.mine': 'shown lot',
  'fixedPrice.of': 'shown lot',
  'fixedPrice.take': 'shown lot',
  'lotPage.page': 'shown lot',
  'relief.value': 'shown lot',
  'told.want': 'shown lot',

  'eitherOr.changeLink': buyers(({ eitherOr, eitherOrLot }, key) => ({ key, eitherOr, lot: eitherOrLot, maximum: '70' })),
  'eitherOr.drop': buyers(({ eitherOr }) => ({ eitherOr })),
  'documents.issueMine': buyers(({ lot }, key) => ({ key, lots: [lot], name: 'Ada Quill', address: '2 Quay Lane, Harbour' })),
  'invoices.answerOffer': buyers(({ offerId }, key) => ({ key, offerId, accepts: false })),
  'invoices.page': buyers(({ lot }) => ({ lot }), 'maker', 'treasurer'),
  'passkeys.remove': buyers(({ passkeyId }) => ({ id: passkeyId })),
  'passkeys.rename': buyers(({ passkeyId }) => ({ id: passkeyId, name: 'The grey key' })),
  'relief.ofLot': buyers(({ lot }) => ({ lot }), 'maker', 'treasurer'),
  'sending.arrived': buyers(({ lot }) => ({ lot })),
  'sending.mine': buyers(({ lot }) => ({ lot })),
  'sending.report': buyers(({ lot }, key) => ({ key, lot, words: 'It came with a dent.' })),
  'sending.say': buyers(({ problemId }, key) => ({ key, problemId, words: 'The dent is on its left.' })),
  'sending.sayAddress': buyers(({ lot }) => ({ lot, ...ADDRESS })),
  'sending.wish': buyers(({ lot }) => ({ lot, wants: 'one' })),
  'told.removeDevice': buyers(({ deviceId }) => ({ id: deviceId })),
  'sessions.end': buyers(({ sessionId }) => ({ id: sessionId })),

  'yours.close': donors(({ token }) => ({ token })),
  'yours.consent': donors(({ token }) => ({ token, use: 'page', given: true })),
  'yours.naming': donors(({ token }) => ({ token, creditName: 'Ines A.', sayIt: '', anonymity: 'named' })),
  'yours.open': donors(({ token }) => ({ token })),

  'bidding.myBids': 'own',
  'bidding.myDisclosures': 'own',
  'confirm.byCode': 'own',
  'confirm.byPasskey': 'own',
  'confirm.sendCode': 'own',
  'confirm.toPasskey': 'own',
  'confirm.ways': 'own',
  'eitherOr.lots': 'own',
  'eitherOr.mine': 'own',
  'documents.mine': 'own',
  'invoices.basket': 'own',
  'invoices.myOffers': 'own',
  'invoices.mySales': 'own',
  'people.myPaddle': 'own',
  'people.setZone': 'own',
  'people.shell': 'own',
  'people.signOut': 'own',
  'people.takePaddle': 'own',
  'sessions.endOthers': 'own',
  'sessions.mine': 'own',
  'told.addDevice': 'own',
  'told.mine': 'own',

  // Each asks for something that only whoever may has: a code, a device, a key, a box that came with the machine.
  'air.overlay': 'its own proof',
  'air.overlayCard': 'its own proof',
  'air.overlayCredits': 'its own proof',
  'air.overlayNames': 'its own proof',
  'certificates.shareHome': 'its own proof',
  'passkeys.signIn': 'its own proof',
  'passkeys.toSignIn': 'its own proof',
  'people.askCode': 'its own proof',
  'people.enterCode': 'its own proof',
  'people.firstMaker': 'its own proof',
  'people.stepInto': 'its own proof',
  'rehearsal.enter': 'its own proof',
  'yours.askLink': 'its own proof',

  'bidding.frames': 'everybody’s',
  'bidding.holdOfAll': 'everybody’s',
  'bidding.houseKeys': 'everybody’s',
  'buildable.wanted': 'everybody’s',
  'campaign.open': 'everybody’s',
  'certificates.home': 'everybody’s',
  'certificates.show': 'everybody’s',
  'credits.all': 'everybody’s',
  'nextCampaign.earlier': 'everybody’s',
  'deletion.answerKeep': 'its own proof',
  'deletion.openKeep': 'its own proof',
  'credits.forUnit': 'everybody’s',
  'donors.promise': 'everybody’s',
  'lotPage.cards': 'everybody’s',
  'people.demoPeople': 'everybody’s',
  'pictures.day': 'everybody’s',
  'pictures.daysBefore': 'everybody’s',
  'proceeds.meter': 'everybody’s',
  'proceeds.parts': 'everybody’s',
  'programme.changes': 'everybody’s',
  'programme.open': 'everybody’s',
  'record.ofUnit': 'everybody’s',
  'rehearsal.here': 'everybody’s',
}

/** What a procedure of a lot is asked with. */
export const ofLot = (path: string, lot: number, key: string): unknown => {
  if (path === 'bidding.place') return { lot, key, maximum: '70' }
  if (path === 'fixedPrice.take') return { lot, key, priceMinor: 24_00 }
  if (path === 'told.want') return { lot, wanted: true }
  if (path === 'bidding.remind') return { lot, wanted: true }
  if (path === 'bidding.disclose') return { lot, kind: 'gave', words: 'I gave a crystal.' }
  if (path === 'bidding.askRetraction') return { lot, reason: 'A slip of the hand.' }
  if (path === 'eitherOr.make')
    return {
      key,
      links: [
        { lot, maximum: '70' },
        { lot: lot + 1000, maximum: '70' },
      ],
      mostWins: 1,
      cap: '',
    }
  return { lot }
}

type AddressLine = 'everybody' | { buyer: true; staff: readonly Role[] } | readonly Role[]

const ALL: readonly Role[] = ['maker', 'volunteer', 'treasurer', 'host']

/** Who may have what stands at each address that gives a file or data. One without a line fails the suite. */
export const ADDRESS_OWNERS: Record<string, AddressLine> = {
  '/.well-known/jwks.json': 'everybody',
  '/bench/close-out/statement.csv': ['maker', 'treasurer'],
  '/bench/close-out/statement.pdf': ['maker', 'treasurer'],
  '/bench/donors/:id/card.pdf': ['maker', 'volunteer'],
  '/bench/keeping/statement.csv': ['maker', 'treasurer'],
  '/bench/keeping/statement.pdf': ['maker', 'treasurer'],
  '/bench/labels/:batch.pdf': ['maker', 'volunteer'],
  '/bench/lots/:number/packing.pdf': ALL,
  '/bench/money/journal.json': ['maker', 'treasurer'],
  '/bench/money/ledger/:account.csv': ['maker', 'treasurer'],
  '/bench/record/changes.csv': ['maker', 'treasurer'],
  '/bench/sending/:lot/cautions.pdf': ['maker', 'volunteer'],
  '/bench/sending/:lot/credits.pdf': ['maker', 'volunteer'],
  '/bench/sending/:lot/customs.pdf': ['maker', 'volunteer'],
  '/bench/sending/:lot/papers.pdf': ['maker', 'volunteer'],
  '/bench/sending/:lot/disposal.pdf': ['maker', 'volunteer'],
  '/bench/sending/:lot/repeat.pdf': ['maker', 'volunteer'],
  '/bench/units/:tag/card.pdf': ALL,
  '/bench/units/:tag/label.pdf': ALL,
  '/certificates.json': 'everybody',
  '/certificates/:serial.json': 'everybody',
  '/certificates/:serial/status.json': 'everybody',
  '/certificates/:serial.pdf': 'everybody',
  '/credits.json': 'everybody',
  '/credits.txt': 'everybody',
  '/credits/lots/:number.json': 'everybody',
  '/credits/lots/:number.txt': 'everybody',
  '/credits/units/:tag.json': 'everybody',
  '/credits/units/:tag.txt': 'everybody',
  '/lots.json': 'everybody',
  '/lots/:number/card.png': 'everybody',
  '/lots/:number/checkpoint': 'everybody',
  '/lots/:number/closing.ics': 'everybody',
  '/lots/:number/consistency.json': 'everybody',
  '/lots/:number/history.json': 'everybody',
  '/lots/:number/invoices/:document.pdf': { buyer: true, staff: ['maker', 'treasurer'] },
  '/lots/:number/invoice.pdf': { buyer: true, staff: ['maker', 'treasurer'] },
  '/proceeds.json': 'everybody',
  '/programme.atom': 'everybody',
  '/programme.ics': 'everybody',
  '/programme.json': 'everybody',
  '/programme.png': 'everybody',
  '/schemas/:name.json': 'everybody',
  '/schemas/journal-1.json': 'everybody',
  '/units/:tag/card.png': 'everybody',
  '/units/:tag/record.json': 'everybody',
}

/** Who may follow what, by the beginning of a topic's name. */
export const TOPIC_OWNERS: Record<string, 'everybody' | 'staff'> = {
  credits: 'everybody',
  day: 'everybody',
  'lot:': 'everybody',
  lots: 'everybody',
  meter: 'everybody',
  overlay: 'everybody',
  programme: 'everybody',
  'search:': 'staff',
  'unit:': 'staff',
}
