import { describe, expect, test } from 'vitest'
import { asked, knownResistor, reads } from './sheets-of'

const own = { source: 'own' }

describe('parts', () => {
  test('are read as people write them: 100n, 0,1uF and 104 are one part', async () => {
    const sheet = 'kind;value;quantity\ncapacitor;100n;10\ncapacitor;0,1uF;20\ncapacitor;104;30\n'
    const { summary, rows, plan } = await reads('shelf', sheet, { answers: own })
    expect(summary).toEqual(['3 batches on the shelf', '1 part new in the catalogue', '3 were not given'])
    expect(plan).toHaveLength(3)
    expect(rows).toEqual([])
  })

  test('are read out of one column of words, with what is known already', async () => {
    const sheet = 'part,qty,shelf\n4k7,100,drawer 4\n100n X7R 0805,ca. 30,drawer 5\nwobbly thing,not counted yet,\n'
    const read = await reads('shelf', sheet, { answers: own, facts: { catalogue: [knownResistor] } })
    expect(asked(read)).toEqual([
      'Nothing says what kind of part “wobbly thing” is, in line 4. Each would be kept by its words alone, under “other”.',
    ])
    const { plan, summary } = await reads('shelf', sheet, { answers: { ...own, others: 'yes' }, facts: { catalogue: [knownResistor] } })
    expect(
      plan?.map((item) => item.is === 'own' && [item.gift.part.kind, item.gift.quantity, item.gift.howCounted, item.gift.place]),
    ).toEqual([
      ['resistor', 100, 'counted', 'drawer 4'],
      ['capacitor', 30, 'about', 'drawer 5'],
      ['other', 0, 'not yet', ''],
    ])
    expect(summary).toEqual([
      '3 batches on the shelf',
      '2 parts new in the catalogue',
      '3 were not given',
      '1 number is a guess, and said so',
      '1 is not counted yet, and no stock until then',
    ])
  })

  test('with a tolerance, a rating and a package are what these say', async () => {
    const { plan } = await reads('shelf', 'kind,value,tolerance,rating,package,quantity\nresistor,4k7,5,1/4 W,0805,12\n', { answers: own })
    expect(plan?.[0]).toMatchObject({ gift: { part: { value: '4.7 kΩ', rating: '±5 % 1/4 W', package: '0805' } } })
  })

  test('whose value cannot be read are refused at their cell', async () => {
    const { flaws } = await reads('shelf', 'kind,value,quantity\nresistor,lots,3\n', { answers: own })
    expect(flaws).toEqual([expect.objectContaining({ line: 2, column: 'value' })])
  })

  test('of which each has a tag are two hundred in a row at most', async () => {
    const at = async (many: number) =>
      (await reads('shelf', `kind,part,quantity\nboard,Main board,${many}\n`, { answers: own })).flaws.length
    expect(await at(200)).toBe(0)
    expect(await at(201)).toBe(1)
  })
})

test.each([
  ['30', 30, 'counted'],
  ['30 pcs', 30, 'counted'],
  ['1,250', 1250, 'counted'],
  ['ca. 30', 30, 'about'],
  ['not counted yet', 0, 'not yet'],
])('%s is a count', async (written, quantity, howCounted) => {
  const { plan } = await reads('shelf', `part;quantity\n4k7;${written}\n`, { answers: own })
  expect(plan?.[0]).toMatchObject({ gift: { quantity, howCounted } })
})

test.each(['1.000', '-3', '2.5', '0', '9999999', '1e3'])('%s is none, and is refused at its cell', async (written) => {
  const { flaws } = await reads('shelf', `part;quantity\n4k7;${written}\n`, { answers: own })
  expect(flaws).toEqual([expect.objectContaining({ line: 2, column: 'quantity' })])
})

describe('whoever it is from', () => {
  const sheet = 'part,quantity,from,day\n4k7,10,Ines Abreu,2026-05-14\n10k,20,Ines Abreu,2026-05-14\n'

  test('may be a donor or a shop, which is asked', async () => {
    const read = await reads('shelf', sheet)
    expect(asked(read)[0]).toBe('“Ines Abreu” in lines 2 and 3: who is it?')
    const donor = await reads('shelf', sheet, { answers: { 'all giver': 'donor', thanked: 'yes' } })
    expect(donor.plan?.map(({ is }) => is)).toEqual(['donor', 'giving'])
    expect(donor.plan?.[1]).toMatchObject({ day: '2026-05-14', gifts: [{ quantity: 10 }, { quantity: 20 }] })
    const shop = await reads('shelf', sheet, { answers: { 'all giver': 'seller' } })
    expect(shop.plan?.map((item) => item.is === 'own' && item.boughtFrom)).toEqual(['Ines Abreu', 'Ines Abreu'])
  })

  test('may have it noted in words already: then it is asked whether it is the same', async () => {
    const facts = {
      donors: [{ id: 'd1', name: 'Ines Abreu', creditName: 'Ines Abreu', contact: '' }],
      inWords: { d1: ['a bag of resistors'] },
    }
    const answers = { 'all here': 'same', thanked: 'yes' }
    expect(asked(await reads('shelf', sheet, { facts, answers }))[0]).toContain(
      '“a bag of resistors”. Is what stands in lines 2 and 3 among them?',
    )
    const out = await reads('shelf', sheet, { facts, answers: { ...answers, 'all again': 'out' } })
    expect(out.flaws[0]?.words).toBe('There is nothing in it that is not here already.')
    const more = await reads('shelf', sheet, { facts, answers: { ...answers, 'all again': 'more' } })
    expect(more.plan).toEqual([expect.objectContaining({ is: 'giving', donor: 'd1', isHere: true })])
  })
})
