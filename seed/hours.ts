import type { PartKind } from '#stock/catalogue/part.contract'
import { nextKey, type Person, type Telling } from './stage'

/** What parts of a kind would cost to buy again; those of other kinds have no price yet. All of it is invented. */
const PRICES: Partial<Record<PartKind, [amount: string, pieces: number]>> = {
  resistor: ['1.50', 100],
  capacitor: ['4.20', 50],
  diode: ['1.20', 20],
  transistor: ['2.10', 10],
  chip: ['2.60', 1],
  inductor: ['3.80', 5],
  crystal: ['0.90', 1],
  connector: ['0.65', 1],
  display: ['4.50', 1],
  board: ['9.80', 1],
  case: ['14.00', 1],
}

/** How hours are counted, what parts cost, and what of it one machine shows to everybody. */
export async function tellHours({ say }: Telling, { maker, volunteer }: { maker: Person; volunteer: Person }): Promise<void> {
  say('hours at the bench, and what parts cost')
  await maker.api.spent.setWeek({ pause: 30, lead: 5, weekly: '18 h' })
  for (const { id: partId, kind } of await maker.api.parts.list()) {
    const [amount, pieces] = PRICES[kind] ?? []
    if (amount && pieces) await volunteer.api.shelf.setPrice({ partId, amount, pieces, source: 'a parts shop, this autumn' })
  }
  const correct = (tag: string, way: 'more' | 'less', time: string, reason: string) =>
    maker.api.spent.correctTime({ key: nextKey(), tag, way, time, reason })
  await correct('TERN-01', 'more', '3:20', 'board soldered at the kitchen table, noted only when it was done')
  await correct('TERN-02', 'more', '2:50', 'board soldered in one evening')
  await correct('LARK-01', 'more', '2 h', 'case drilled and lined')
  await correct('WREN-01', 'less', '20 min', 'a telephone call in between')
  await maker.api.spent.show({ tag: 'TERN-01', hours: true, parts: false })
}
