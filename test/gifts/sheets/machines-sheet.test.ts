import { expect, test } from 'vitest'
import { asked, reads } from './sheets-of'

const machinesOf = async (...of: Parameters<typeof reads>) =>
  (await reads(...of)).plan?.map((item) => item.is === 'machine' && item.machine)

test('a machine from before is read with what it raised, and its buyer is not', async () => {
  const sheet = 'Design;Serial;Built;Hours;Sold for;Sold on;Buyer\nTern TR-1;TR-003;2023;12,5;1.250,00 €;2024-05-14;Somebody\n'
  const read = await reads('machines', sheet, { answers: { sold: 'yes' } })
  expect(read.notes).toEqual(['“Buyer” is not stored: to whom a machine went is nobody else’s business.'])
  expect(JSON.stringify(read.plan)).not.toContain('Somebody')
  expect(read.flaws[0]?.words).toContain('This amount is in EUR')
})

test('amounts take the currency that their heading names', async () => {
  const sheet =
    'Design;Serial;Built;Hours;Price (EUR);Sold on\nTern TR-1;TR-003;2023;12,5;1.250,00;14.05.2024\nTern TR-1;TR-004;05/2023;;;\n'
  const choice = { columns: ['design', 'serial', 'built', 'hours', 'raised', 'when'] }
  expect(await machinesOf('machines', sheet, { answers: { sold: 'yes' }, choice })).toEqual([
    {
      design: 'Tern TR-1',
      serial: 'TR-003',
      builtOn: '2023',
      minutes: 750,
      raisedMinor: 125_000,
      currency: 'EUR',
      fate: 'sold',
      fateOn: '2024-05-14',
    },
    {
      design: 'Tern TR-1',
      serial: 'TR-004',
      builtOn: '2023-05',
      minutes: null,
      raisedMinor: null,
      currency: null,
      fate: 'not known',
      fateOn: null,
    },
  ])
})

test('the currency is asked where nothing says it', async () => {
  const sheet = 'design,raised,fate\nTern TR-1,120.00,sold\n'
  expect(asked(await reads('machines', sheet))).toEqual(['In which currency is what the machines raised, in line 2?'])
  expect(await machinesOf('machines', sheet, { answers: { currency: 'CHF' } })).toEqual([
    expect.objectContaining({ raisedMinor: 12_000, currency: 'CHF' }),
  ])
})

test('a number that stands twice is refused, and a machine that is here already is not stored again', async () => {
  const twice = await reads('machines', 'design,serial\nTern,1\ntern,1\n')
  expect(twice.flaws[0]).toMatchObject({ line: 3, column: 'serial', words: expect.stringContaining('stands in line 2 already') })
  const before = {
    design: 'Tern',
    serial: '1',
    builtOn: null,
    minutes: null,
    raisedMinor: null,
    currency: null,
    fate: 'not known',
    fateOn: null,
  } as const
  const { plan, summary } = await reads('machines', 'design,serial\nTern,1\nTern,2\n', { facts: { earlier: [before] } })
  expect(plan).toHaveLength(1)
  expect(summary).toEqual(['1 machine of 1 design', '1 is here already and not stored again'])
})

test('a time that cannot have been is refused', async () => {
  const wrong = async (built: string) => (await reads('machines', `design,built\nTern,${built}\n`)).flaws.map(({ column }) => column)
  expect(await wrong('2027')).toEqual([])
  expect(await wrong('2028')).toEqual(['built'])
  expect(await wrong('2027-04')).toEqual(['built'])
  expect(await wrong('soon')).toEqual(['built'])
})
