import { lot, paddle, person } from '#db/schema/index'
import { DAY } from '#kernel/instant'
import type { Actor, Turn } from '#runtime/queue/turn'
import { beginLedger } from '#sale/history/ledger.service'
import type { LotTerms } from '#sale/lots/lots.contract'
import { changeLot, getLotRow } from '#sale/lots/lots.service'
import { defaultLadder } from '#sale/price/ladder.rules'
import { lateBidOf } from '#sale/price/late-bid.rules'

const LOTS: readonly number[] = [1, 2, 3, 4]
const BIDDERS = 12
const OPENING_MINOR = 1_000
const CEILING_MINOR = 100_000_000_000
const POSTAGE = [{ zone: 'Nowhere', countries: ['GB'], amountMinor: 0 }]

/** Some lots that stay open, and bidders who may bid more than they will: rows for a database that no house has. */
export function makeLotsThatNeverWere(turn: Turn): { lots: readonly number[]; bidders: readonly Actor[] } {
  const { db, dice, now } = turn
  const at = new Date(now)
  const bidders = Array.from({ length: BIDDERS }, (_, n): Actor => {
    const personId = dice.id()
    const name = `Nobody ${n + 1}`
    const email = `nobody-${n + 1}@nowhere.example`
    db.insert(person).values({ id: personId, name, email, emailVerified: true, createdAt: at, updatedAt: at }).run()
    db.insert(paddle)
      .values({ personId, number: n + 1, country: 'GB', ceilingMinor: CEILING_MINOR, rulesAcceptedAt: now })
      .run()
    return { personId, role: 'bidder', name, email }
  })
  for (const number of LOTS) {
    const id = dice.id()
    const unitTag = `NOWHERE-${number}`
    const times = { openedAt: now, closesAt: now + 365 * DAY }
    db.insert(lot)
      .values({
        id,
        number,
        unitId: dice.id(),
        unitTag,
        title: unitTag,
        openingMinor: OPENING_MINOR,
        ...times,
        state: 'open',
        terms: termsOf(turn, unitTag),
      })
      .run()
    changeLot(turn, id, beginLedger(turn, getLotRow(turn, number)))
  }
  return { lots: LOTS, bidders }
}

const termsOf = ({ publicUrl }: Turn, unit: string): LotTerms => ({
  currency: 'GBP',
  openingMinor: OPENING_MINOR,
  ladder: defaultLadder('GBP'),
  lateBid: lateBidOf({}),
  origin: `${new URL(publicUrl).host}/${unit}`,
  sale: {
    title: unit,
    story: '',
    unit,
    certificate: '',
    extras: [],
    cause: '',
    causeRegistration: '',
    causeShareBp: 0,
    seller: '',
    sellerKind: 'private',
    cancelWords: '',
    postage: POSTAGE,
    weightGrams: 1,
    sizeMm: [1, 1, 1],
    estimate: { lowMinor: 0, highMinor: 0 },
    photographs: [],
  },
})
