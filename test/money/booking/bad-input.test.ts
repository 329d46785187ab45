import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { entry } from '#db/schema/index'
import { refusedAt } from '#test/make/refusal'
import { formKey, makeSoldLot } from '#test/make/sold'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
let sold: Awaited<ReturnType<typeof makeSoldLot>>
beforeEach(async () => {
  stage = openStage()
  sold = await makeSoldLot(stage)
})
afterEach(() => stage.close())

const count = () => stage.db.select().from(entry).all().length
const reference = ''
const on = ''
const why = 'A reason.'

/** Every form of the books that takes an amount, with all else right. */
const forms: Record<string, (amount: string) => Promise<unknown>> = {
  payment: (amount) => sold.treasurer.booking.pay({ key: formKey(), lot: sold.number, amount, reference, on }),
  postage: (amount) => sold.treasurer.booking.postage({ key: formKey(), lot: sold.number, amount }),
  'unknown money': (amount) => sold.treasurer.booking.cameUnknown({ key: formKey(), from: 'Q', amount, reference, on }),
  gift: (amount) => sold.treasurer.booking.give({ key: formKey(), from: 'Q', amount, reference, on }),
  refund: (amount) => sold.treasurer.booking.refund({ key: formKey(), of: 'lot', lot: sold.number, amount, why, reference, on }),
  cost: (amount) =>
    sold.treasurer.booking.cost({
      key: formKey(),
      what: 'Boxes',
      about: 'parts',
      amount,
      bearer: 'seller',
      paidFrom: 'bank',
      reference,
      on,
    }),
  fee: (amount) => sold.treasurer.booking.fee({ key: formKey(), to: 'The bank', amount, bearer: 'seller', reference, on }),
  remittance: (amount) => sold.treasurer.booking.remit({ key: formKey(), amount, reference, on }),
  reduction: (amount) => sold.treasurer.booking.reduce({ key: formKey(), lot: sold.number, amount, why }),
}

const AMOUNTS = [
  '',
  '   ',
  '-5',
  '−5',
  '5-',
  '(5)',
  '€5',
  '5 EUR',
  '$5',
  '1.2.3',
  '1,23,4',
  '12,345',
  '5.001',
  '1e3',
  '0x10',
  'five',
  '١٢',
  'NaN',
  '9'.repeat(30),
]

describe.each(Object.keys(forms))('the %s form', (name) => {
  it('refuses what is no amount of the campaign’s currency, at the amount, in a sentence, and writes nothing', async () => {
    const before = count()
    const taken: string[] = []
    for (const amount of AMOUNTS) {
      const words = await refusedAt(forms[name]?.(amount) ?? Promise.resolve()).catch(() => null)
      if (words === null) taken.push(amount)
      else expect([amount, Object.keys(words), /^[A-Z"].*\.$/.test(words.amount ?? '')]).toEqual([amount, ['amount'], true])
    }
    // A comma between thousands is read as it is meant: 12,345 is an amount, where the form has no limit of its own.
    expect(taken.filter((amount) => amount !== '12,345')).toEqual([])
    expect(count() - before).toBe(taken.length)
  })
})

it('an amount with a comma for its decimals is read as it is meant', async () => {
  await sold.treasurer.booking.pay({ key: formKey(), lot: sold.number, amount: '12,50', reference, on })
  expect((await sold.books()).statement.receivedMinor).toBe(1_250)
})

it.each(['03/04', '03/04/2027', '3 April', '2027-13-01', '2027-02-29', '20270301', '2027-3-1', 'yesterday'])(
  'the day "%s" is refused at the day',
  async (typed) => {
    const words = await refusedAt(sold.treasurer.booking.give({ key: formKey(), from: 'Q', amount: '5', reference, on: typed }))
    expect(Object.keys(words)).toEqual(['on'])
  },
)

it('the same form sent twice is written once, in every kind', async () => {
  const { booking } = sold.treasurer
  const key = formKey()
  const cost = { key, what: 'Boxes', about: 'parts', amount: '5', bearer: 'seller', paidFrom: 'bank', reference, on } as const
  expect(await booking.cost(cost)).toEqual(await booking.cost(cost))
  const fall = { key: formKey(), lot: sold.number, why }
  expect(await booking.fallThrough(fall)).toEqual(await booking.fallThrough(fall))
  expect((await sold.books()).costs).toHaveLength(1)
})

it.each([
  ['a reason of spaces', () => sold.treasurer.booking.fallThrough({ key: formKey(), lot: sold.number, why: '   ' }), 'why'],
  ['a payer without a name', () => sold.treasurer.booking.cameUnknown({ key: formKey(), from: ' ', amount: '5', reference, on }), 'from'],
  [
    'a reference as long as a letter',
    () => sold.treasurer.booking.give({ key: formKey(), from: 'Q', amount: '5', reference: 'x'.repeat(81), on }),
    'reference',
  ],
  [
    'a promise up to nothing',
    () => sold.treasurer.matching.promise({ key: formKey(), from: 'Q', base: 'lots', ratioPercent: '100', cap: '0' }),
    'cap',
  ],
  [
    'a promise that is not there',
    () => sold.treasurer.matching.receive({ key: formKey(), promiseId: 'none', amount: '5', reference, on }),
    'promiseId',
  ],
  [
    'money that is not there',
    () => sold.treasurer.booking.place({ key: formKey(), to: 'gift', entryId: 'none', amount: '5', word: 'Keep it.', on }),
    'entryId',
  ],
  ['a lot that is not there', () => sold.treasurer.booking.reduce({ key: formKey(), lot: 99, amount: '5', why }), 'lot'],
] as const)('%s is refused at its field', async (_, send, field) => {
  const before = count()
  expect(Object.keys(await refusedAt(send()))).toEqual([field])
  expect(count()).toBe(before)
})
