import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type CreditedDonor, credit, creditSentence } from '../../server/credits/credits.rules'

const donor = (name: string, more: Partial<CreditedDonor> = {}): CreditedDonor => ({
  donorId: name,
  name,
  sayIt: null,
  anonymity: 'named',
  isApproved: true,
  consents: ['page', 'stream', 'card'],
  ...more,
})
const names = (donors: CreditedDonor[], use: 'page' | 'stream' | 'card' = 'page') => credit(donors, use).names.map(({ name }) => name)

describe('who is named', () => {
  it('by name, accents and capitals aside', () => {
    expect(names([donor('Öre Lund'), donor('ada pell'), donor('Zoë Marsh'), donor('Oda Kern')])).toEqual([
      'ada pell',
      'Oda Kern',
      'Öre Lund',
      'Zoë Marsh',
    ])
  })

  it('once each, however often they gave', () => {
    expect(names([donor('Ada Pell'), donor('Bo Ferris'), donor('Ada Pell')])).toEqual(['Ada Pell', 'Bo Ferris'])
  })

  it('only for the uses they agreed to', () => {
    const streamOnly = donor('Ada Pell', { consents: ['stream'] })
    expect(names([streamOnly], 'stream')).toEqual(['Ada Pell'])
    expect(names([streamOnly], 'page')).toEqual([])
    expect(names([streamOnly], 'card')).toEqual([])
  })

  it('not before the name is approved', () => {
    expect(names([donor('Rude Word', { isApproved: false })])).toEqual([])
  })

  it('a friend is counted, one known to the maker only is not there at all', () => {
    const credits = credit(
      [
        donor('Ada Pell', { anonymity: 'friend' }),
        donor('Bo Ferris', { anonymity: 'maker-only' }),
        donor('Unknown', { anonymity: 'unknown' }),
      ],
      'page',
    )
    expect(credits).toEqual({ names: [], friends: 1 })
  })

  it('the same people give the same credits in whatever order they are found', () => {
    const people = ['Ada Pell', 'ada pell', 'Bo Ferris', 'Cé Ward', 'Ce Ward', 'Ünal'].map((name) => donor(name))
    fc.assert(
      fc.property(fc.shuffledSubarray(people, { minLength: people.length }), (shuffled) => {
        expect(credit(shuffled, 'page')).toEqual(credit(people, 'page'))
      }),
    )
  })
})

describe('the sentence', () => {
  it('names all, then the friends', () => {
    expect(
      creditSentence({
        names: [
          { name: 'Ada Pell', sayIt: null },
          { name: 'Bo Ferris', sayIt: null },
        ],
        friends: 2,
      }),
    ).toBe('Ada Pell, Bo Ferris and two friends')
    expect(creditSentence({ names: [{ name: 'Ada Pell', sayIt: null }], friends: 0 })).toBe('Ada Pell')
    expect(creditSentence({ names: [], friends: 1 })).toBe('a friend')
    expect(creditSentence({ names: [], friends: 0 })).toBeNull()
  })
})
