import { civilOf } from '#kernel/civil'
import { DAY, type Instant, MINUTE } from '#kernel/instant'
import { SALES, type SaleStory, SMALL_SALES } from './lots'
import { drawPhotograph, type Machine } from './pictures'
import { makeSound } from './sounds'
import { keepPhotograph, keepRecording, type Person, type Telling } from './stage'

const MACHINES: Record<string, Machine> = {
  TERN: 'saltmarsh',
  LARK: 'copperbeech',
  WREN: 'tidemill',
  PIPIT: 'samphire',
  KNOT: 'marram',
  RUFF: 'eelgrass',
}

export interface Guest {
  itemId: string
  title: string
  minutes: string
  at: Instant
}

export const toTheMinute = (at: Instant): Instant => Math.floor(at / MINUTE) * MINUTE

/** A time as a form sends it, in the zone of the stream. */
export function typedTime({ house }: Telling, at: Instant): { on: string; at: string } {
  const { zone } = house.sight().db.query.campaign.findFirst().sync() ?? { zone: 'Europe/London' }
  const [on = '', clock = ''] = civilOf(at, zone).split('T')
  return { on, at: clock }
}

/** Lots are prepared and put into the programme three days before, with guests and breaks, and announced. Gives the guests. */
export async function tellLots(telling: Telling, maker: Person): Promise<Guest[]> {
  const { now, goTo, say } = telling
  say('lots, photographs and the programme')
  goTo(now - 3 * DAY)
  const minute = (minutes: number) => typedTime(telling, toTheMinute(now) + minutes * MINUTE)
  const prepared: { lot: number; sale: SaleStory }[] = []
  for (const sale of SALES) prepared.push({ lot: await prepare(telling, maker, sale, false), sale })
  await prepareInPart(maker)
  for (const sale of SMALL_SALES) prepared.push({ lot: await prepare(telling, maker, sale, true), sale })
  const plan = async (isToAnnounce: boolean) => {
    for (const { lot, sale } of prepared)
      if (sale.closes !== null && Boolean(sale.isToAnnounce) === isToAnnounce)
        await maker.api.programme.plan({ kind: 'closing', lot, ...minute(sale.closes) })
  }
  await plan(false)
  const guests: Guest[] = []
  for (const [title, minutes, from] of [
    ['Tideway Radio Club', '40', -260],
    ['Ines Abreu, cabinet maker', '30', 75],
    ['Ferry Lane Repair School', '45', 200],
  ] as const) {
    const { itemId } = await maker.api.programme.plan({ kind: 'guest', title, minutes, ...minute(from) })
    guests.push({ itemId, title, minutes, at: toTheMinute(now) + from * MINUTE })
  }
  for (const [title, minutes, from] of [
    ['Soup', '25', -190],
    ['Tea', '20', 170],
  ] as const)
    await maker.api.programme.plan({ kind: 'break', title, minutes, ...minute(from) })
  await maker.api.programme.audience({
    zones: [
      { zone: 'Europe/London', sharePercent: 50 },
      { zone: 'America/New_York', sharePercent: 30 },
      { zone: 'Asia/Tokyo', sharePercent: 20 },
    ],
  })
  await maker.api.programme.announce()
  await plan(true)
  await wish(maker, guests)
  await maker.api.air.changeKey()
  return guests
}

/** What is wished for the two that have no time yet. */
async function wish(maker: Person, guests: readonly Guest[]): Promise<void> {
  const lots = await maker.api.lots.all()
  const lotOf = (tag: string) => lots.find(({ unit }) => unit === tag)?.number ?? 0
  await maker.api.planning.wish({ lot: lotOf('RUFF-04'), kind: 'guest', guest: guests.at(-1)?.itemId ?? '', weight: '3' })
  await maker.api.planning.wish({ lot: lotOf('KNOT-05'), kind: 'last', weight: '2' })
}

/** One lot with all that its gate asks for, but for its time. Gives its number. */
async function prepare(telling: Telling, maker: Person, sale: SaleStory, isSmall: boolean): Promise<number> {
  const { number } = await maker.api.lots.start({ unit: sale.unit })
  const [weightGrams, lengthMm, widthMm, heightMm] = isSmall ? ['700', '180', '140', '90'] : ['2400', '340', '240', '160']
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
    weightGrams,
    lengthMm,
    widthMm,
    heightMm,
    soldWhere: sale.elsewhereUrl ? 'elsewhere' : 'here',
    elsewhereUrl: sale.elsewhereUrl ?? '',
  })
  const [home, europe, elsewhere] = isSmall ? ['6.20', '13', '21'] : ['9.50', '18', '34']
  await maker.api.lots.savePostage({
    lot: number,
    rows: [
      { zone: 'At home', countries: 'GB', amount: home },
      { zone: 'Europe', countries: 'AT BE CH DE DK ES FI FR IE IT NL NO PT SE', amount: europe },
      { zone: 'Everywhere else', countries: '*', amount: elsewhere },
    ],
  })
  await photographs(telling, maker, number, { unit: sale.unit, isSmall })
  await sound(telling, maker, number, sale.unit)
  return number
}

/** One more is being prepared: the gate says what it lacks. */
async function prepareInPart(maker: Person): Promise<void> {
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

const VIEWS = [
  ['front', 'On the bench, running'],
  ['board', 'Its board, before the case was closed'],
] as const

async function photographs(
  telling: Telling,
  maker: Person,
  lot: number,
  { unit: tag, isSmall }: { unit: string; isSmall: boolean },
): Promise<void> {
  const [prefix = '', unit = '1'] = tag.split('-')
  const machine = MACHINES[prefix] ?? 'samphire'
  for (const [view, caption] of VIEWS.slice(0, isSmall ? 1 : 2)) {
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
