import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { decimalMarkOf, readAmount } from '#kernel/written-amount'
import { dayOrderOf, readDay } from '#kernel/written-day'
import { findLots, isOneSlip, namesPerson, paddleIn } from '#money/bank/references.rules'
import { readBankFile } from '#money/bank/statement-file.rules'
import type { BankChoice } from '#money/bank/statement-questions.rules'
import { type BooksKnown, suggest } from '#money/bank/suggest.rules'
import { makeCreditorReference } from '#money/journal/creditor-reference.rules'

describe('days as banks write them', () => {
  test.each([
    ['2027-03-14', '2027-03-14'],
    ['20270314', '2027-03-14'],
    ['14.03.2027', '2027-03-14'],
    ['14.3.27', '2027-03-14'],
    ['14 Mar 2027', '2027-03-14'],
    ['14-Mar-27', '2027-03-14'],
    ['14 March 2027', '2027-03-14'],
    ['2027-03-14 09:30:00', '2027-03-14'],
    ['14/03/2027', '2027-03-14'],
  ])('%s is %s', (text, day) => expect(readDay(text, 'day first')).toBe(day))

  test('03/04 is a day in April or in March, and it is asked which', () => {
    expect(dayOrderOf(['03/04/2027', '05/06/2027'])).toBe('asked')
    expect([readDay('03/04/2027', 'day first'), readDay('03/04/2027', 'month first')]).toEqual(['2027-04-03', '2027-03-04'])
  })

  test('one number above twelve decides for all, one each way contradicts', () => {
    expect(dayOrderOf(['03/04/2027', '13/04/2027'])).toBe('day first')
    expect(dayOrderOf(['03/04/2027', '04/13/2027'])).toBe('month first')
    expect(dayOrderOf(['13/04/2027', '04/13/2027'])).toBe('mixed')
    expect(dayOrderOf(['04/04/2027', '2027-03-14'])).toBe('not needed')
  })

  test.each(['31/02/2027', '2027-13-01', '', 'yesterday', '1/1/1999', '00/00/0000'])('%j is no day', (text) => {
    expect(readDay(text, 'day first')).toBeNull()
  })
})

describe('amounts as banks write them', () => {
  test.each([
    ['1.234,56', 123_456],
    ['-1.234,56', -123_456],
    ['1 234,56', 123_456],
    ['12,50-', -1250],
    ['(12,50)', -1250],
    ['+12,5', 1250],
    ['−12,50 EUR', -1250],
    ['12,50 D', -1250],
    ['€ 12,50', 1250],
    ['12', 1200],
    ['0,07', 7],
  ])('%s with a decimal comma is %i', (text, amountMinor) => expect(readAmount(text, 'EUR', 'comma')).toEqual({ amountMinor }))

  test.each([
    ['1,234.56', 123_456],
    ["1'234.56", 123_456],
    ['12.50 CR', 1250],
    ['12.50DR', -1250],
    ['£12.50', 1250],
    ['-£12.50', -1250],
    ['.50', 50],
  ])('%s with a decimal point is %i', (text, amountMinor) => expect(readAmount(text, 'GBP', 'point')).toEqual({ amountMinor }))

  test('the mark is found in the whole column; a contradiction is none', () => {
    expect(decimalMarkOf(['12,50', '1.234,00'], 'EUR')).toBe('comma')
    expect(decimalMarkOf(['1,234', '12.50'], 'GBP')).toBe('point')
    expect(decimalMarkOf(['1.234', '12,5'], 'EUR')).toBe('comma')
    expect(decimalMarkOf(['12,50', '12.50'], 'EUR')).toBeNull()
    expect(decimalMarkOf(['12'], 'EUR')).toBe('point')
  })

  test.each(['USD 12.50', '$12', '12x', '12 ABC', '12.345', 'twelve', '1,23,4.00', '999999999999.00'])('%s is refused in words', (text) => {
    expect(readAmount(text, 'GBP', 'point')).toHaveProperty('words')
  })
})

const LOTS = [1, 2, 7, 12, 17].map((lot) => ({ lot, reference: makeCreditorReference(`A1B2LOT${lot}`) }))
const [ONE] = LOTS
const refOf = (lot: number) => LOTS.find((one) => one.lot === lot)?.reference ?? ''

describe('what a payer wrote', () => {
  test('a reference is found in any letters, with blanks and words around it', () => {
    const spaced = refOf(7)
      .replaceAll(/(.{4})/g, '$1 ')
      .toLowerCase()
    expect(findLots(`payment ${spaced} thank you`, LOTS)).toEqual([{ lot: 7, how: 'reference', said: refOf(7) }])
    expect(findLots(`${refOf(12)} ${refOf(17)}`, LOTS).map(({ lot }) => lot)).toEqual([12, 17])
  })

  test('every reference with one wrong or swapped character is found, and as no other', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...LOTS),
        fc.nat(),
        fc.constantFrom(...'0123456789ABCDEFGHJKLMNPQRSTUVWXYZ'),
        fc.boolean(),
        (meant, where, letter, isSwap) => {
          const { reference } = meant
          const at = where % (reference.length - 1)
          const written = isSwap
            ? reference.slice(0, at) + reference[at + 1] + reference[at] + reference.slice(at + 2)
            : reference.slice(0, at) + letter + reference.slice(at + 1)
          // Another lot's body with this one's check digits is one slip from both: then nothing is said by it alone.
          const others = LOTS.filter((one) => one !== meant && (isOneSlip(written, one.reference) || written.includes(one.reference)))
          const found = findLots(written, LOTS)
          if (others.length === 0) expect(found.map(({ lot }) => lot)).toEqual([meant.lot])
        },
      ),
    )
  })

  test('a lost and a doubled character are slips too, two wrong ones are not', () => {
    const good = refOf(12)
    expect(findLots(good.slice(0, 5) + good.slice(6), LOTS)[0]).toMatchObject({ lot: 12, how: 'reference with a slip' })
    expect(findLots(`${good.slice(0, 5)}${good[5]}${good.slice(5)}`, LOTS)[0]).toMatchObject({ lot: 12 })
    expect(findLots('RF00A1B2LOX12', LOTS)).toEqual([])
  })

  test.each([
    ['Lot 7', [7]],
    ['for LOT no. 7, thanks', [7]],
    ['lots 1 and 12', [1, 12]],
    ['Lot 007', [7]],
    ['a lot of thanks', []],
    ['lot 99', []],
    ['slot 7', []],
    ['LOT1 2', [12]],
    ['RF00 A1B2 LOT1 7', [17]],
    ['LOT1 9', [1]],
    ['Lot 1 2', [1, 2]],
  ])('"%s" names %j', (text, lots) => expect(findLots(text, LOTS).map(({ lot }) => lot)).toEqual(lots))

  test('a paddle and a name are hints, whole words and accents aside', () => {
    expect([paddleIn('paddle 12'), paddleIn('Bidder no 3'), paddleIn('saddle 12')]).toEqual([12, 3, null])
    expect(namesPerson('QUILL ADA MISS', 'Ada Quill')).toBe(true)
    expect(namesPerson('ADA', 'Ada Quill')).toBe(false)
    expect(namesPerson('Sorén Åker', 'Soren Aker')).toBe(true)
  })
})

const read = (text: string, choice: BankChoice = {}) =>
  readBankFile(text, { currency: 'GBP', choice, today: '2027-05-01', isOurs: (said) => said.includes(ONE?.reference ?? '?') })

describe('a bank’s file', () => {
  test('columns are known by many names, above them may stand what the bank says of itself', () => {
    const { rows, flaws } = read(
      'Account 12-34\n\nBuchungstag;Betrag;Verwendungszweck;Auftraggeber/Empfänger\n14.03.2027;1.062,00;Lot 1;Ada\n15.03.2027;-3,50;Gebühr;Bank',
    )
    expect(flaws).toEqual([])
    expect(rows.map(({ on, amountMinor, words, name }) => [on, amountMinor, words, name])).toEqual([
      ['2027-03-14', 106_200, 'Lot 1', 'Ada'],
      ['2027-03-15', -350, 'Gebühr', 'Bank'],
    ])
  })

  test.each(['Buchung', 'Booked', 'Date comptable', 'Fecha operación', 'Bokføringsdato'])(
    'the day under “%s” is the day of booking, and the value date beside it is told apart',
    (heading) => {
      const { rows, flaws } = read(`${heading};Wertstellung;Betrag;Verwendungszweck\n15.03.2027;14.03.2027;62,00;Lot 1`)
      expect(flaws).toEqual([])
      expect(rows).toMatchObject([{ on: '2027-03-15', valueOn: '2027-03-14' }])
    },
  )

  test('two columns, paid in and paid out, are one amount with a sign', () => {
    const { rows } = read(
      'Date,Details,Paid in,Paid out,Balance\n2027-03-14,a,62.00,,100\n2027-03-15,b,,-10.00,90\n2027-03-16,c,,5.00,85\n,total,62.00,15.00,',
    )
    expect(rows.map(({ amountMinor }) => amountMinor)).toEqual([6200, -1000, -500])
  })

  test.each([
    ['another currency in the heading', 'date,amount (EUR)\n2027-03-14,62.00', 'amount (EUR)', 'EUR'],
    ['a currency that the house does not know', 'date,amount\n2027-03-14,XAU 62.00', 'amount', 'is not an amount'],
    ['no amount at all', 'date,words\n2027-03-14,hello', 'amount', 'No column'],
    ['a day that is none', 'date,amount\n2027-02-30,62.00', 'date', 'is not a day'],
    ['a day that has not come', 'date,amount\n2027-05-02,62.00', 'date', 'has not come'],
    ['dates in two orders', 'date,amount\n13/04/2027,1.00\n04/13/2027,1.00', 'date', 'the day first and some the month'],
    ['amounts in two forms', 'date,amount\n2027-03-14,"12,50"\n2027-03-14,12.50', 'amount', 'decimal comma'],
    ['words for an amount', 'date,amount\n2027-03-14,a lot', 'amount', 'is not an amount'],
    ['both in and out', 'date,paid in,paid out\n2027-03-14,1.00,2.00', 'amount', 'both a paid in and a paid out'],
    ['nothing', '', '', 'empty'],
    ['no text at all', 'date\0amount', '', 'not a text file'],
  ])('%s is refused at its place', (_what, text, column, words) => {
    const { flaws } = read(text)
    expect(flaws).toContainEqual(expect.objectContaining({ column, words: expect.stringContaining(words) }))
  })

  test('03/04 is a question, with both days in words, until it is answered', () => {
    const text = 'date,amount\n03/04/2027,62.00'
    const [question] = read(text).questions
    expect(question).toMatchObject({
      ask: 'dayOrder',
      isAnswered: false,
      answers: [{ label: 'Day first: 2027-04-03' }, { label: 'Month first: 2027-03-04' }],
    })
    expect(read(text, { dayOrder: 'month first' }).rows[0]?.on).toBe('2027-03-04')
    expect(read(text, { dayOrder: 'month first' }).questions[0]?.isAnswered).toBe(true)
  })

  test('money that names our lot and stands with a minus asks what the sign means', () => {
    const text = `date,amount,words\n2027-03-14,-62.00,${ONE?.reference}\n2027-03-15,5.00,other`
    expect(read(text).questions.map(({ ask }) => ask)).toEqual(['sign'])
    expect(read(text, { sign: 'turned' }).rows.map(({ amountMinor }) => amountMinor)).toEqual([6200, -500])
  })

  test('a row that stands twice asks whether it is one; a running balance tells them apart', () => {
    const text = 'date,amount,words\n2027-03-14,5.00,tea\n2027-03-14,5.00,tea'
    expect(read(text).questions.map(({ ask }) => ask)).toEqual(['twins'])
    expect(read(text).rows).toHaveLength(1)
    expect(read(text, { twins: 'each' }).rows).toHaveLength(2)
    expect(read('date,amount,words,balance\n2027-03-14,5.00,tea,10\n2027-03-14,5.00,tea,15').questions).toEqual([])
  })
})

const BOOKS: BooksKnown = {
  references: LOTS,
  lots: LOTS.map(({ lot }) => ({
    lot,
    owedMinor: lot === 2 ? 0 : lot * 1000,
    buyer: lot > 10 ? 'Ada Quill' : `Buyer ${lot}00`,
    buyerPersonId: lot > 10 ? 'ada' : String(lot),
    paddle: lot > 10 ? 4 : lot,
  })),
  entries: [],
  owing: [{ entryId: 'e1', memo: 'Owed back for lot 2', payer: 'Bo Larkin', leftMinor: 1500 }],
  causeName: 'Ferry Lane Repair School',
  heldMinor: 50_000,
  show: (amount) => `£${(amount / 100).toFixed(2)}`,
}
const line = (amountMinor: number, words: string, name = '') => ({ on: '2027-03-20', amountMinor, words, name, reference: '' })

describe('a contract that is over', () => {
  const second = makeCreditorReference('A1B2LOT7C2')
  const former = { personId: 'ada', buyer: 'Ada Quill' }
  const books = { ...BOOKS, references: [...LOTS.map((one) => (one.lot === 7 ? { ...one, former } : one)), { lot: 7, reference: second }] }

  test('what comes under its reference, or in its buyer’s name, is owed back to them and not offered to whoever has the lot now', () => {
    for (const late of [line(7000, refOf(7), 'Ada Quill'), line(7000, refOf(7)), line(7000, 'Lot 7', 'Ms Ada Quill')])
      expect(suggest(late, books)).toMatchObject({
        strength: 'likely',
        parts: [{ to: 'unplaced', amountMinor: 7000, of: { buyer: 'Ada Quill', lot: 7 } }],
        why: expect.stringContaining('It is not offered to Buyer 700'),
      })
  })

  test('the later contract is paid under its own reference', () => {
    expect(suggest(line(7000, second), books)).toMatchObject({ strength: 'sure', parts: [{ to: 'lot', lot: 7, amountMinor: 7000 }] })
  })
})

test('one reference of several lots pays them in order, with a slip in it too', () => {
  const joint = makeCreditorReference('A1B2INV3')
  const books = { ...BOOKS, references: [...LOTS, { lot: 12, reference: joint }, { lot: 17, reference: joint }] }
  const both = [
    { to: 'lot', lot: 12, amountMinor: 12_000 },
    { to: 'lot', lot: 17, amountMinor: 17_000 },
  ]
  expect(suggest(line(29_000, joint), books)).toMatchObject({ strength: 'sure', parts: both })
  expect(suggest(line(29_000, `${joint.slice(0, 6)}${joint.slice(7)}`), books)).toMatchObject({ strength: 'likely', parts: both })
})

describe('what a line probably is', () => {
  test('reference and amount from somebody with quite another name: likely, and it says so', () => {
    expect(suggest(line(7000, refOf(7), 'Cyd Marsh'), BOOKS)).toMatchObject({
      strength: 'likely',
      why: expect.stringContaining('Cyd Marsh is not the name of Buyer 700'),
    })
    expect(suggest(line(12_000, refOf(12), 'A QUILL'), BOOKS)?.strength).toBe('sure')
  })

  test('reference and amount: sure', () => {
    expect(suggest(line(7000, refOf(7)), BOOKS)).toMatchObject({ strength: 'sure', parts: [{ to: 'lot', lot: 7, amountMinor: 7000 }] })
  })

  test('a part payment says what stays to pay, an overpayment what has no home', () => {
    expect(suggest(line(5000, refOf(7)), BOOKS)).toMatchObject({
      strength: 'likely',
      parts: [{ to: 'lot', lot: 7, amountMinor: 5000 }],
      why: expect.stringContaining('£20.00 is still to pay'),
    })
    expect(suggest(line(7500, refOf(7)), BOOKS)?.parts).toEqual([
      { to: 'lot', lot: 7, amountMinor: 7000 },
      { to: 'unplaced', amountMinor: 500 },
    ])
    expect(suggest(line(900, refOf(2)), BOOKS)).toMatchObject({
      parts: [{ to: 'unplaced', amountMinor: 900 }],
      why: expect.stringContaining('paid already'),
    })
  })

  test('one payment for two lots is split', () => {
    expect(suggest(line(29_000, `${refOf(12)} ${refOf(17)}`), BOOKS)?.parts).toEqual([
      { to: 'lot', lot: 12, amountMinor: 12_000 },
      { to: 'lot', lot: 17, amountMinor: 17_000 },
    ])
    expect(suggest(line(29_000, 'for my two machines', 'A QUILL ADA'), BOOKS)).toMatchObject({
      strength: 'likely',
      parts: [{ lot: 12 }, { lot: 17 }],
    })
  })

  test('an amount alone is a weak hint, and none where nothing fits', () => {
    expect(suggest(line(7000, 'hello'), BOOKS)).toMatchObject({ strength: 'weak', parts: [{ lot: 7 }] })
    expect(suggest(line(7001, 'hello'), BOOKS)).toBeNull()
  })

  test('what went out is what is owed back, or what was sent on', () => {
    expect(suggest(line(-1500, 'refund', 'Bo Larkin'), BOOKS)).toMatchObject({ strength: 'sure', parts: [{ to: 'refund', entryId: 'e1' }] })
    expect(suggest(line(-20_000, 'Ferry Lane Repair School'), BOOKS)).toMatchObject({ parts: [{ to: 'remittance', amountMinor: 20_000 }] })
    expect(suggest(line(-777, 'solder'), BOOKS)).toBeNull()
  })

  test('what was written by hand is found and not booked again, within a week', () => {
    const books = {
      ...BOOKS,
      entries: [{ entryId: 'p1', kind: 'payment', amountMinor: 7000, valueOn: '2027-03-14', memo: 'Payment for lot 7', lot: 7 }],
    }
    expect(suggest(line(7000, refOf(7)), books)).toMatchObject({ parts: [{ to: 'entry', entryId: 'p1', amountMinor: 7000 }] })
    expect(suggest({ ...line(7000, refOf(7)), on: '2027-03-22' }, books)?.parts[0]?.to).toBe('lot')
    expect(suggest(line(7000, refOf(1)), books)?.parts[0]?.to).toBe('lot')
  })
})
