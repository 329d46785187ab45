import { HOUR, type Instant, MINUTE } from '#kernel/instant'
import { SALES, SMALL_SALES } from './lots'
import { drawPhotograph } from './pictures'
import { type Guest, typedTime } from './sale'
import { keepPhotograph, nextKey, type Person, type Telling, visitor } from './stage'

interface Bid {
  lot: number
  /** Before now. */
  ago: Instant
  bidder: number
  maximum: string
}

const BIDS: readonly Bid[] = [
  { lot: 1, ago: 40 * HOUR, bidder: 2, maximum: '75' },
  { lot: 1, ago: 20 * HOUR, bidder: 0, maximum: '120' },
  { lot: 3, ago: 18 * HOUR, bidder: 4, maximum: '80' },
  { lot: 2, ago: 16 * HOUR, bidder: 3, maximum: '130' },
  { lot: 5, ago: 11 * HOUR, bidder: 0, maximum: '100' },
  { lot: 1, ago: 5 * HOUR, bidder: 3, maximum: '130' },
  { lot: 1, ago: 215 * MINUTE, bidder: 0, maximum: '180' },
  { lot: 1, ago: 211 * MINUTE, bidder: 2, maximum: '150' },
  { lot: 2, ago: 3 * HOUR, bidder: 1, maximum: '200' },
  { lot: 2, ago: 95 * MINUTE, bidder: 4, maximum: '170' },
  // Marit pushes Sunniva on one lot and on another, and leads nowhere: that deserves a look.
  { lot: 5, ago: 9 * HOUR, bidder: 2, maximum: '95' },
  { lot: 3, ago: 70 * MINUTE, bidder: 1, maximum: '110' },
  { lot: 3, ago: 33 * MINUTE, bidder: 0, maximum: '140' },
  { lot: 3, ago: 12 * MINUTE, bidder: 1, maximum: '165' },
  { lot: 3, ago: 4 * MINUTE, bidder: 0, maximum: '160' },
  // The small machines.
  { lot: 7, ago: 30 * HOUR, bidder: 4, maximum: '19' },
  { lot: 7, ago: 6 * HOUR, bidder: 6, maximum: '28' },
  { lot: 8, ago: 22 * HOUR, bidder: 3, maximum: '17' },
  { lot: 8, ago: 165 * MINUTE, bidder: 5, maximum: '24' },
  { lot: 9, ago: 14 * HOUR, bidder: 5, maximum: '16' },
  { lot: 9, ago: 2 * HOUR, bidder: 1, maximum: '22' },
  { lot: 12, ago: 8 * HOUR, bidder: 6, maximum: '14' },
]

interface Crew {
  maker: Person
  volunteer: Person
  treasurer: Person
  host: Person
}

interface Event {
  /** Before now. */
  ago: Instant
  happens(): Promise<unknown>
}

/** Lots open two days before; then the bids come in, lots close, the clocks are held once, one sale falls through, and its machine can be had at a fixed price. */
export async function tellDay(telling: Telling, crew: Crew, bidders: readonly Person[], guests: readonly Guest[]): Promise<void> {
  const { now, goTo, say } = telling
  const { maker, host, treasurer } = crew
  say('bids and closings')
  goTo(now - 2 * 24 * HOUR)
  const planned = [...SALES, ...SMALL_SALES].filter(({ closes, isToAnnounce }) => closes !== null && !isToAnnounce)
  for (const { number, unit } of await maker.api.lots.all())
    if (planned.some((sale) => sale.unit === unit)) await maker.api.bidding.open({ lot: number })
  const events: Event[] = [
    ...BIDS.map(({ lot, ago, bidder, maximum }) => ({
      ago,
      happens: async () => bidders[bidder]?.api.bidding.place({ lot, key: `${nextKey()}-bid`, maximum }),
    })),
    { ago: 118 * MINUTE, happens: () => host.api.programme.holdAll({ reason: 'The sound was gone.' }) },
    { ago: 112 * MINUTE, happens: () => host.api.programme.resumeAll() },
    { ago: 140 * MINUTE, happens: () => payWhole(treasurer, 8, 'bank, 8') },
    { ago: 100 * MINUTE, happens: () => fallThrough(treasurer) },
    { ago: 60 * MINUTE, happens: () => toWhoeverIsFirst(maker) },
    { ago: 50 * MINUTE, happens: () => send(telling, crew, bidders[5]) },
    { ago: 14 * MINUTE, happens: async () => eitherOr(bidders[3]) },
  ]
  for (const { ago, happens } of events.sort((a, b) => b.ago - a.ago)) {
    await closeUntil(telling, now - ago)
    goTo(now - ago)
    await happens()
  }
  await closeUntil(telling, now)
  await bidders[4]?.api.bidding.askRetraction({ lot: 3, reason: 'I took it for the clock.' })
  await bidders[2]?.api.bidding.disclose({ lot: 0, kind: 'gave', words: 'Crystals, through the radio club.' })
  await bidders[0]?.api.bidding.remind({ lot: 5, wanted: true })
  await movesLater(telling, maker, guests.at(-1))

  say('money')
  goTo(now - 3 * MINUTE)
  await tellMoney(treasurer)
}

async function movesLater(telling: Telling, maker: Person, guest: Guest | undefined): Promise<void> {
  if (!guest) return
  const { itemId, title, minutes } = guest
  const later = typedTime(telling, guest.at + 10 * MINUTE)
  await maker.api.programme.move({ itemId, title, minutes, ...later, reason: 'The school’s last lesson ends later.' })
}

/** Kenji wants the receiver or else the quiet voice: outbid on the first, so the second wakes when it closes. */
async function eitherOr(bidder: Person | undefined): Promise<void> {
  const links = [
    { lot: 3, maximum: '135' },
    { lot: 5, maximum: '170' },
  ]
  await bidder?.api.eitherOr.make({ key: nextKey(), mostWins: 1, cap: '', links })
}

/** Whatever closes before `until` closes at its instant, as the house would have done: late bids and holds have moved it. */
async function closeUntil(telling: Telling, until: Instant): Promise<void> {
  const { house, goTo } = telling
  for (let last = Number.NEGATIVE_INFINITY; ; ) {
    const { lots } = await visitor(telling).bidding.frames()
    const due = lots.flatMap(({ state, closesAt }) => (state === 'open' && closesAt !== null && closesAt > last ? [closesAt] : []))
    const at = Math.min(...due)
    if (at > until) return
    last = at
    goTo(at)
    // Before any command what is due closes; this one has nothing else to do.
    await house.queue.run(() => {})
  }
}

/** That machine can be had by whoever says yes first. */
const toWhoeverIsFirst = ({ api }: Person) =>
  api.fixedPrice.offer({
    key: nextKey(),
    lot: 7,
    amount: '24',
    lastDay: '',
    cancelWords: 'Write to the bench within 14 days of receiving the machine. Your local rules may give you more.',
  })

/** The buyer of the first small machine cannot pay, and says so. */
const fallThrough = ({ api }: Person) =>
  api.booking.fallThrough({ key: nextKey(), lot: 7, why: 'The buyer wrote at once: a slip of the finger, and no money for it.' })

/** Packed, weighed and handed over: it is on its way. */
async function send(telling: Telling, { volunteer }: Crew, buyer: Person | undefined): Promise<void> {
  const lot = 8
  const at = { name: 'Thea Novak', street: '17 Invented Steps', place: 'Ferry Lane', postcode: 'ZZ1 4FL', country: 'GB', telephone: '' }
  await buyer?.api.sending.sayAddress({ lot, ...at })
  const sha = await keepPhotograph(telling, volunteer, await drawPhotograph('eelgrass', 1, 'front'))
  for (const { key, wantsPhotograph } of (await volunteer.api.sending.page({ lot })).items) {
    if (wantsPhotograph) await volunteer.api.sending.photograph({ lot, item: key, sha })
    await volunteer.api.sending.tick({ lot, item: key, isPacked: true })
  }
  const size = { weightGrams: '820', lengthMm: '200', widthMm: '160', heightMm: '110' }
  const about = { cells: 'none', wattHours: '', mains: 'no', goods: '', origin: 'GB', netGrams: '', tariffHint: '' } as const
  await volunteer.api.sending.parcel({ lot, ...size, ...about })
  await volunteer.api.sending.dispatch({ lot, carrier: 'Harbour Post', tracking: 'HP 19 83', trackingUrl: '' })
}

async function owedFor({ api }: Person, lot: number): Promise<number> {
  const books = await api.books.all()
  return (books?.statement.lots.find(({ number }) => number === lot)?.owedMinor ?? 0) / 100
}

async function payWhole(treasurer: Person, lot: number, reference: string): Promise<void> {
  const amount = (await owedFor(treasurer, lot)).toFixed(2)
  await treasurer.api.booking.pay({ on: '', key: nextKey(), lot, amount, reference })
}

/** The treasurer's day so far: one lot paid with a little too much, one in part, a gift, a promise, a cost and a fee. */
async function tellMoney(treasurer: Person): Promise<void> {
  const { api } = treasurer
  const paper = { on: '' }
  const [run] = (await api.books.all())?.runs ?? []
  await api.booking.cost({
    ...paper,
    key: nextKey(),
    what: 'Feet, screws and mains leads',
    about: 'parts',
    amount: '38.40',
    bearer: 'seller',
    paidFrom: 'pocket',
    reference: 'receipt 7',
    ...(run && { runId: run.id }),
  })
  await api.booking.pay({
    ...paper,
    key: nextKey(),
    lot: 1,
    amount: ((await owedFor(treasurer, 1)) + 5).toFixed(2),
    reference: 'bank, 1',
    over: 'keep',
  })
  await api.booking.fee({ ...paper, key: nextKey(), to: 'the card house', amount: '2.35', bearer: 'seller', lot: 1, reference: 'payout 1' })
  if ((await owedFor(treasurer, 2)) > 60)
    await api.booking.pay({ ...paper, key: nextKey(), lot: 2, amount: '60', reference: 'bank, 2, first part' })
  await api.booking.give({ ...paper, key: nextKey(), from: 'A friend of the school', amount: '150', reference: 'envelope' })
  await api.matching.promise({ key: nextKey(), from: 'Tideway Radio Club', base: 'lots', ratioPercent: '100', cap: '500' })
}
