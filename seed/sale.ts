import { civilOf } from '#kernel/civil'
import { DAY, HOUR, type Instant, MINUTE } from '#kernel/instant'
import { SALES } from './cast'
import { drawPhotograph, type Machine } from './pictures'
import { makeSound } from './sounds'
import { keepPhotograph, keepRecording, nextKey, type Person, type Telling } from './stage'

const MACHINES: Record<string, Machine> = { TERN: 'saltmarsh', LARK: 'copperbeech', WREN: 'tidemill', PIPIT: 'samphire' }

const toTheMinute = (at: Instant): Instant => Math.floor(at / MINUTE) * MINUTE

/** When each lot of the story closes, by its number. The third closes in six minutes, give or take one. */
const closingsOf = (now: Instant): Record<number, Instant> => ({
  1: toTheMinute(now - 210 * MINUTE),
  2: toTheMinute(now - 80 * MINUTE),
  3: toTheMinute(now) + 7 * MINUTE,
  4: toTheMinute(now + 55 * MINUTE),
  5: toTheMinute(now + 130 * MINUTE),
})

const EITHER_OR_AGO = 14 * MINUTE

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
]

/** Lots are prepared, put into the programme and opened two days before; then the bids come in, and two lots close. */
export async function tellSale(
  telling: Telling,
  { maker, treasurer }: { maker: Person; treasurer: Person },
  bidders: Person[],
): Promise<void> {
  const { now, house, goTo, say } = telling
  say('lots, photographs and the programme')
  goTo(now - 3 * DAY)
  const { zone } = house.sight().db.query.campaign.findFirst().sync() ?? { zone: 'Europe/London' }
  const closings = closingsOf(now)
  const plan = (at: Instant) => {
    const [on = '', clock = ''] = civilOf(at, zone).split('T')
    return { on, at: clock }
  }
  for (const sale of SALES) {
    const { number } = await maker.api.lots.start({ unit: sale.unit })
    await maker.api.lots.save({
      lot: number,
      title: sale.title,
      story: sale.story,
      extras: sale.extras,
      opening: sale.opening,
      reserveKind: sale.reserve === null ? 'none' : 'amount',
      reserve: sale.reserve ?? '',
      low: sale.estimate[0],
      likely: sale.estimate[1],
      high: sale.estimate[2],
      weightGrams: '2400',
      lengthMm: '340',
      widthMm: '240',
      heightMm: '160',
      soldWhere: sale.elsewhereUrl ? 'elsewhere' : 'here',
      elsewhereUrl: sale.elsewhereUrl ?? '',
    })
    await maker.api.lots.savePostage({
      lot: number,
      rows: [
        { zone: 'At home', countries: 'GB', amount: '9.50' },
        { zone: 'Europe', countries: 'AT BE CH DE DK ES FI FR IE IT NL NO PT SE', amount: '18' },
        { zone: 'Everywhere else', countries: '*', amount: '34' },
      ],
    })
    await photographs(telling, maker, number, sale.unit)
    await sound(telling, maker, number, sale.unit)
    await maker.api.programme.plan({ kind: 'closing', lot: number, ...plan(closings[number] ?? now) })
  }
  const guests: [string, Instant, string][] = [
    ['Tideway Radio Club', now - 260 * MINUTE, '40'],
    ['Ines Abreu, cabinet maker', now + 75 * MINUTE, '30'],
    ['Ferry Lane Repair School', now + 200 * MINUTE, '45'],
  ]
  let lastGuest = ''
  for (const [title, at, minutes] of guests)
    lastGuest = (await maker.api.programme.plan({ kind: 'guest', title, minutes, ...plan(toTheMinute(at)) })).itemId
  await maker.api.programme.plan({ kind: 'break', title: 'Tea', minutes: '20', ...plan(toTheMinute(now + 170 * MINUTE)) })
  await maker.api.programme.audience({
    zones: [
      { zone: 'Europe/London', sharePercent: 50 },
      { zone: 'America/New_York', sharePercent: 30 },
      { zone: 'Asia/Tokyo', sharePercent: 20 },
    ],
  })
  await maker.api.programme.announce()
  await maker.api.air.changeKey()

  say('bids')
  goTo(now - 2 * DAY)
  for (const { unit } of SALES) {
    const { number } = (await maker.api.lots.all()).find((lot) => lot.unit === unit) ?? { number: 0 }
    await maker.api.bidding.open({ lot: number })
  }
  for (const { lot, ago, bidder, maximum } of [...BIDS].sort((a, b) => b.ago - a.ago)) {
    if (ago < EITHER_OR_AGO && telling.house.clock.now() < now - EITHER_OR_AGO) await eitherOr(telling, bidders[3])
    await closeUntil(telling, closings, now - ago)
    goTo(now - ago)
    await bidders[bidder]?.api.bidding.place({ lot, key: `${nextKey()}-bid`, maximum })
  }
  await closeUntil(telling, closings, now)
  await bidders[4]?.api.bidding.askRetraction({ lot: 3, reason: 'I took it for the clock.' })
  await bidders[2]?.api.bidding.disclose({ lot: 0, kind: 'gave', words: 'Crystals, through the radio club.' })
  await bidders[0]?.api.bidding.remind({ lot: 5, wanted: true })

  const [title, at, minutes] = guests.at(-1) ?? ['', now, '45']
  const later = plan(toTheMinute(at + 10 * MINUTE))
  await maker.api.programme.move({ itemId: lastGuest, title, minutes, ...later, reason: 'The school’s last lesson ends later.' })

  say('money')
  goTo(now - 3 * MINUTE)
  await tellMoney(treasurer)

  // One more is being prepared: the gate says what it lacks.
  const { number } = await maker.api.lots.start({ unit: 'PIPIT-01' })
  await maker.api.lots.save({
    lot: number,
    title: 'Samphire counter, eight figures',
    story: 'Counts to 50 MHz on a timebase that was measured against a reference. Its logic was read back on a second reader.',
    extras: '',
    opening: '50',
    reserveKind: 'undecided',
    reserve: '',
    low: '',
    likely: '',
    high: '',
    weightGrams: '1800',
    lengthMm: '',
    widthMm: '',
    heightMm: '',
    soldWhere: 'here',
    elsewhereUrl: '',
  })
}

/** The treasurer's day so far: one lot paid with a little too much, one in part, a gift, a promise, a cost and a fee. */
async function tellMoney({ api }: Person): Promise<void> {
  const books = await api.books.all()
  const owed = (lot: number) => (books?.statement.lots.find(({ number }) => number === lot)?.owedMinor ?? 0) / 100
  const paper = { on: '' }
  const [run] = books?.runs ?? []
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
  await api.booking.pay({ ...paper, key: nextKey(), lot: 1, amount: (owed(1) + 5).toFixed(2), reference: 'bank, 1', over: 'keep' })
  await api.booking.fee({ ...paper, key: nextKey(), to: 'the card house', amount: '2.35', bearer: 'seller', lot: 1, reference: 'payout 1' })
  if (owed(2) > 60) await api.booking.pay({ ...paper, key: nextKey(), lot: 2, amount: '60', reference: 'bank, 2, first part' })
  await api.booking.give({ ...paper, key: nextKey(), from: 'A friend of the school', amount: '150', reference: 'envelope' })
  await api.matching.promise({ key: nextKey(), from: 'Tideway Radio Club', base: 'lots', ratioPercent: '100', cap: '500' })
}

/** Kenji wants the receiver or else the quiet voice: outbid on the first, so the second wakes when it closes. */
async function eitherOr({ goTo, now }: Telling, bidder: Person | undefined): Promise<void> {
  goTo(now - EITHER_OR_AGO)
  const links = [
    { lot: 3, maximum: '135' },
    { lot: 5, maximum: '170' },
  ]
  await bidder?.api.eitherOr.make({ key: nextKey(), mostWins: 1, cap: '', links })
}

/** Whatever closes before `until` closes at its instant, as the house would have done. */
async function closeUntil({ house, goTo }: Telling, closings: Record<number, Instant>, until: Instant): Promise<void> {
  for (const at of Object.values(closings)) {
    if (at > until || at < house.clock.now()) continue
    goTo(at)
    // Before any command what is due closes; this one has nothing else to do.
    await house.queue.run(() => {})
  }
}

async function photographs(telling: Telling, maker: Person, lot: number, tag: string): Promise<void> {
  const [prefix = '', unit = '1'] = tag.split('-')
  const machine = MACHINES[prefix] ?? 'samphire'
  for (const [view, caption] of [
    ['front', 'On the bench, running'],
    ['board', 'Its board, before the case was closed'],
  ] as const) {
    const sha = await keepPhotograph(telling, maker, await drawPhotograph(machine, Number(unit), view))
    await maker.api.lots.addPhotograph({ lot, sha, caption })
  }
}

async function sound(telling: Telling, maker: Person, lot: number, tag: string): Promise<void> {
  const machine = MACHINES[tag.split('-')[0] ?? ''] ?? 'samphire'
  if (machine !== 'saltmarsh') return
  const sha = await keepRecording(telling, maker, makeSound(lot))
  await maker.api.lots.addRecording({
    lot,
    sha,
    caption: 'A beacon, out of the noise',
    description: 'Four seconds. Noise like rain; then a clear tone of about 650 hertz comes up in it and sends four long and short beats.',
  })
}
