import { afterEach, describe, expect, test } from 'vitest'
import { DAY } from '#kernel/instant'
import { readCamt } from '#money/bank/camt-file.rules'
import { refusedAt } from '#test/make/refusal'
import { formKey, makeSoldLot } from '#test/make/sold'
import { openStage, type Stage } from '#test/stage'

// Messages by the public schema of ISO 20022, camt.053.001.02 and .08, with invented parties.

interface Entry {
  amount: string
  currency?: string
  direction?: 'CRDT' | 'DBIT'
  status?: string
  booked?: string
  value?: string
  details?: string
  info?: string
}

const balance = (code: string, amount: string, day: string, direction = 'CRDT', currency = 'GBP') =>
  `<Bal><Tp><CdOrPrtry><Cd>${code}</Cd></CdOrPrtry></Tp><Amt Ccy="${currency}">${amount}</Amt><CdtDbtInd>${direction}</CdtDbtInd><Dt><Dt>${day}</Dt></Dt></Bal>`

const entry = (
  { amount, currency = 'GBP', direction = 'CRDT', status, booked = '2027-03-14', value = booked, details = '', info = '' }: Entry,
  version: string,
) => {
  const code = status ?? 'BOOK'
  const sts = version === '02' ? `<Sts>${code}</Sts>` : `<Sts><Cd>${code}</Cd></Sts>`
  return `<Ntry><Amt Ccy="${currency}">${amount}</Amt><CdtDbtInd>${direction}</CdtDbtInd>${sts}<BookgDt><Dt>${booked}</Dt></BookgDt><ValDt><Dt>${value}</Dt></ValDt><NtryDtls>${details}</NtryDtls><AddtlNtryInf>${info}</AddtlNtryInf></Ntry>`
}

const from = (name: string, reference: string, version: string, amount = '') => {
  const party = version === '02' ? `<Dbtr><Nm>${name}</Nm></Dbtr>` : `<Dbtr><Pty><Nm>${name}</Nm></Pty></Dbtr>`
  const part =
    amount === ''
      ? ''
      : version === '02'
        ? `<AmtDtls><TxAmt><Amt Ccy="GBP">${amount}</Amt></TxAmt></AmtDtls>`
        : `<Amt Ccy="GBP">${amount}</Amt>`
  return `<TxDtls><Refs><EndToEndId>NOTPROVIDED</EndToEndId></Refs>${part}<RltdPties>${party}</RltdPties><RmtInf><Strd><CdtrRefInf><Ref>${reference}</Ref></CdtrRefInf></Strd></RmtInf></TxDtls>`
}

const statement = (body: string, version = '02') =>
  `<?xml version="1.0" encoding="UTF-8"?>\n<Document xmlns="urn:iso:std:iso:20022:tech:xsd:camt.053.001.${version}"><BkToCstmrStmt><GrpHdr><MsgId>M1</MsgId></GrpHdr><Stmt><Id>S1</Id><Acct><Id><IBAN>GB82WEST12345698765432</IBAN></Id><Ccy>GBP</Ccy></Acct>${body}</Stmt></BkToCstmrStmt></Document>`

const BALANCES = balance('OPBD', '100.00', '2027-03-14') + balance('CLBD', '158.80', '2027-03-15')

describe.each(['02', '08'])('a statement in camt.053.001.%s', (version) => {
  test('is read with its balances, days, names and references, booked entries alone', () => {
    const { rows, balances, flaws } = readCamt(
      statement(
        BALANCES +
          entry({ amount: '62.00', value: '2027-03-15', details: from('Ada Quill', 'RF18539007547034', version) }, version) +
          entry({ amount: '3.20', direction: 'DBIT', info: 'Account   fee' }, version) +
          entry({ amount: '9.00', status: 'PDNG' }, version),
        version,
      ),
      'GBP',
    )
    expect(flaws).toEqual([])
    expect(balances).toEqual([
      {
        account: 'GB82WEST12345698765432',
        opensOn: '2027-03-14',
        closesOn: '2027-03-15',
        openingMinor: 10_000,
        closingMinor: 15_880,
      },
    ])
    expect(rows.map(({ on, valueOn, amountMinor, name, reference, words }) => [on, valueOn, amountMinor, name, reference, words])).toEqual([
      ['2027-03-14', '2027-03-15', 6200, 'Ada Quill', 'RF18539007547034', ''],
      ['2027-03-14', '2027-03-14', -320, '', '', 'Account fee'],
    ])
  })

  test('may stand beside another of the same account in one file: all lines are read, and each its balances', () => {
    const day = (on: string, opens: string, closes: string, amount: string) =>
      balance('OPBD', opens, on) + balance('CLBD', closes, on) + entry({ amount, booked: on }, version)
    const both = `${day('2027-03-14', '100.00', '162.00', '62.00')}</Stmt><Stmt><Id>S2</Id><Acct><Id><IBAN>GB82WEST12345698765432</IBAN></Id></Acct>${day('2027-03-15', '162.00', '167.00', '5.00')}`
    const { rows, balances, flaws } = readCamt(statement(both, version), 'GBP')
    expect(flaws).toEqual([])
    expect(rows.map(({ on, amountMinor }) => [on, amountMinor])).toEqual([
      ['2027-03-14', 6200],
      ['2027-03-15', 500],
    ])
    expect(balances.map(({ closesOn, closingMinor }) => [closesOn, closingMinor])).toEqual([
      ['2027-03-14', 16_200],
      ['2027-03-15', 16_700],
    ])
  })

  test('one entry of several payments is those payments where they add up to it, and itself where not', () => {
    const both = from('Ada Quill', 'RF451234512345', version, '40.00') + from('Bo Larkin', 'RF68AB2G5', version, '22.00')
    const read = (amount: string) => readCamt(statement(entry({ amount, details: both }, version), version), 'GBP').rows
    expect(read('62.00').map(({ amountMinor, name }) => [amountMinor, name])).toEqual([
      [4000, 'Ada Quill'],
      [2200, 'Bo Larkin'],
    ])
    expect(read('63.00').map(({ amountMinor }) => amountMinor)).toEqual([6300])
  })
})

test.each([
  ['no XML to its end', statement('').slice(0, -20), 'damaged'],
  ['a document type of its own', statement('').replace('<Document', '<!DOCTYPE Document [<!ENTITY a "b">]><Document'), 'document type'],
  ['statements of two accounts', statement('</Stmt><Stmt>'), 'several accounts'],
  ['no statement', statement('').replace(/<Stmt>.*<\/Stmt>/, ''), 'No statement'],
  ['an entry without a day', statement(entry({ amount: '1.00', booked: 'soon', value: 'soon' }, '02')), 'no amount, no day'],
  ['an amount of three decimals', statement(entry({ amount: '1.005' }, '02')), 'no amount, no day'],
])('%s is refused in words', (_what, text, words) => {
  expect(readCamt(text, 'GBP').flaws).toContainEqual(expect.objectContaining({ words: expect.stringContaining(words) }))
})

test('amounts have the decimals of their currency (ISO 4217)', () => {
  const read = (amount: string, currency: string) =>
    readCamt(statement(entry({ amount, currency }, '02')), 'GBP').rows.map((row) => [row.amountMinor, row.currency])
  expect([read('1500', 'JPY'), read('1.234', 'KWD'), read('62.5', 'GBP')]).toEqual([[[1500, 'JPY']], [[1234, 'KWD']], [[6250, undefined]]])
})

let stage: Stage
afterEach(() => stage?.close())

async function sold() {
  stage = openStage()
  const made = await makeSoldLot(stage)
  stage.clock.pass(5 * DAY)
  const reference = (await made.books()).statement.lots[0]?.reference ?? ''
  const { treasurer } = made
  const take = (text: string, choice = {}) => treasurer.bank.import({ name: 'march.xml', text, ...choice })
  const against = async () => (await treasurer.bank.desk()).reconciled
  return { ...made, reference, take, against, desk: () => treasurer.bank.desk() }
}

const OWN = (reference: string) =>
  statement(
    BALANCES +
      entry({ amount: '62.00', value: '2027-03-15', details: from('Ada', reference, '02') }, '02') +
      entry({ amount: '3.20', direction: 'DBIT', info: 'Account fee' }, '02'),
  )

describe('the books against the bank', () => {
  test('agree only when every line has its entry, every entry its line, and the lines lead from one balance to the other', async () => {
    const { take, against, reference, treasurer, desk } = await sold()
    expect(await against()).toEqual([])
    await treasurer.booking.give({ key: formKey(), from: 'A friend', amount: '7', reference: '', on: '2027-03-14' })
    await take(OWN(reference))
    expect(await against()).toMatchObject([
      {
        agrees: false,
        missingMinor: 0,
        linesMinor: 5880,
        linesWithoutEntry: [{ amountMinor: 6200 }, { amountMinor: -320 }],
        entriesWithoutLine: [{ amountMinor: 700, memo: 'Gift of money from A friend' }],
      },
    ])
    const open = (await desk()).open
    const [paid, fee] = [6200, -320].map((minor) => open.find(({ amountMinor }) => amountMinor === minor))
    expect(paid).toMatchObject({ on: '2027-03-14', valueOn: '2027-03-15' })
    await treasurer.bank.confirm({ key: formKey(), lineId: paid?.id ?? '' })
    await treasurer.bank.place({
      key: formKey(),
      lineId: fee?.id ?? '',
      parts: [{ to: 'fee', amount: '3.20', what: 'The bank', bearer: 'seller' }],
    })
    expect(await against()).toMatchObject([{ agrees: false, linesWithoutEntry: [], entriesWithoutLine: [{ amountMinor: 700 }] }])
    const gift = (await treasurer.books.all())?.journal.find(({ kind }) => kind === 'gift')
    await treasurer.booking.correct({ key: formKey(), entryId: gift?.id ?? '', why: 'It never came.' })
    expect(await against()).toMatchObject([{ agrees: true, balances: { closesOn: '2027-03-15' } }])
    await treasurer.bank.reopen({ key: formKey(), lineId: fee?.id ?? '', why: 'Not ours.' })
    expect((await against())[0]?.agrees).toBe(false)
    await treasurer.bank.setAside({ lineId: fee?.id ?? '', why: 'The club bears it.' })
    expect(await against()).toMatchObject([{ agrees: true, setAsideMinor: -320 }])
  })

  test('balances typed by hand say by how much lines are missing; below nought too', async () => {
    const { take, against, treasurer } = await sold()
    await take('Date,Amount,Details\n2027-03-14,5.00,tea')
    const typed = {
      key: formKey(),
      account: 'The current account',
      opensOn: '2027-03-14',
      closesOn: '2027-03-15',
      opening: '-10.00',
      closing: '2.50',
    }
    expect(await refusedAt(treasurer.bank.balances({ ...typed, key: formKey(), closesOn: '2027-03-13' }))).toHaveProperty('closesOn')
    expect(await refusedAt(treasurer.bank.balances({ ...typed, key: formKey(), closesOn: '2028-01-01' }))).toHaveProperty('closesOn')
    expect(await refusedAt(treasurer.bank.balances({ ...typed, key: formKey(), closing: 'much' }))).toHaveProperty('closing')
    await treasurer.bank.balances(typed)
    expect(await against()).toMatchObject([{ agrees: false, linesMinor: 500, missingMinor: 750, balances: { openingMinor: -1000 } }])
  })
})

describe('the same payment in another layout', () => {
  test('is one: sure where one says all that the other does, asked about where it is a doubt', async () => {
    const { take, desk, reference } = await sold()
    await take(OWN(reference))
    expect(await take(`Date,Amount,Details,Name\n2027-03-14,62.00,${reference},Ada\n2027-03-14,-3.20,Account fee,`)).toEqual({
      fresh: 0,
      known: 2,
    })
    const other = 'Date,Amount,Details\n2027-03-14,62.00,For my machine'
    expect(await refusedAt(take(other))).toHaveProperty('again')
    expect(await take(other, { again: 'another' })).toEqual({ fresh: 1, known: 0 })
    const doubt = `Date,Amount,Details\n2027-03-14,-3.20,Kontofuehrung`
    expect((await refusedAt(take(doubt))).again).toContain('has the day and the amount')
    expect(await take(doubt, { again: 'same' })).toEqual({ fresh: 0, known: 1 })
    expect(await take(doubt, { again: 'another' })).toEqual({ fresh: 1, known: 0 })
    expect((await desk()).open.map(({ amountMinor }) => amountMinor).sort((a, b) => a - b)).toEqual([-320, -320, 6200, 6200])
  })
})

test('a line in another currency is set aside with its amount, keeps no other out, and cannot be booked', async () => {
  const { take, desk, treasurer } = await sold()
  expect(await take('Date,Amount,Currency,Details\n2027-03-14,5.00,GBP,tea\n2027-03-14,62.00,USD,far')).toEqual({ fresh: 2, known: 0 })
  const { open, settled } = await desk()
  expect(open.map(({ words }) => words)).toEqual(['tea'])
  expect(settled).toMatchObject([{ state: 'set aside', amountMinor: 6200, currency: 'USD', words: 'far' }])
  await expect(treasurer.bank.reopen({ key: formKey(), lineId: settled[0]?.id ?? '', why: 'Try.' })).rejects.toThrow('not converted')
})

test('a day of booking and one from which it counts are told apart in a table too; one alone is the day', async () => {
  const { take, desk } = await sold()
  await take('Buchungstag;Valuta;Betrag;Verwendungszweck\n15.03.2027;16.03.2027;5,00;tea')
  await take('Valuta;Betrag;Verwendungszweck\n17.03.2027;6,00;cake')
  expect((await desk()).open.map(({ on, valueOn }) => [on, valueOn])).toEqual([
    ['2027-03-15', '2027-03-16'],
    ['2027-03-17', null],
  ])
})
