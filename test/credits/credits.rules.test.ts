import { describe, expect, it } from 'vitest'
import type { PageCredits } from '../../server/credits/credits.contract'
import { donorsBehind, donorsOfAll, type GiftBehind, thanks, videoDescription } from '../../server/credits/credits.rules'

const UNIT = { id: 'tern-03', designId: 'sr3' }
const gift = (donorId: string, more: Partial<GiftBehind> = {}): GiftBehind => ({
  donorId,
  state: 'available',
  onlyForUnitId: null,
  onlyForDesignId: null,
  ...more,
})
const named = (...names: string[]): PageCredits => ({ names, friends: 0, line: names.join(' and ') })

describe('whose gifts are behind a unit', () => {
  it('those of the pieces fitted in it, once each', () => {
    expect(donorsBehind(UNIT, [gift('ada'), gift('bo'), gift('ada')], [gift('cy')])).toEqual(['ada', 'bo'])
  })

  it('and what was given for it or for its design', () => {
    const all = [
      gift('case', { onlyForUnitId: 'tern-03' }),
      gift('help', { onlyForDesignId: 'sr3' }),
      gift('other', { onlyForUnitId: 'tern-04' }),
      gift('elsewhere', { onlyForDesignId: 'fc8' }),
    ]
    expect(donorsBehind(UNIT, [], all)).toEqual(['case', 'help'])
  })

  it.each(['promised', 'on its way', 'declined', 'returned', 'destroyed', 'quarantined'] as const)(
    'a gift that is %s helps nothing',
    (state) => {
      expect(donorsBehind(UNIT, [], [gift('ada', { state, onlyForUnitId: 'tern-03' })])).toEqual([])
      expect(donorsOfAll([gift('ada', { state })])).toEqual([])
    },
  )

  it.each(['arrived', 'counted', 'inspected', 'available', 'fitted', 'spare'] as const)('a gift that is %s helps', (state) => {
    expect(donorsOfAll([gift('ada', { state })])).toEqual(['ada'])
  })
})

describe('the words of thanks', () => {
  it('name everyone, and say so when there is nobody to name', () => {
    expect(thanks(named('Ada Pell', 'Bo Ferris'), 'TERN-03')).toBe('We thank Ada Pell and Bo Ferris, whose gifts are in TERN-03.')
    expect(thanks(named(), 'TERN-03')).toBe('Nobody is named for TERN-03 yet.')
  })

  it('make a paragraph for each lot and end with everybody', () => {
    const lots = [{ number: 7, title: 'Saltmarsh shortwave receiver', unit: 'TERN-03', ...named('Ada Pell') }]
    const campaign = { name: 'Long Bench Day', causeName: 'Ferry Lane Repair School' }
    expect(videoDescription(campaign, lots, named('Ada Pell', 'Bo Ferris')).split('\n\n')).toEqual([
      'Long Bench Day, for Ferry Lane Repair School.',
      'Lot 7, Saltmarsh shortwave receiver (TERN-03). We thank Ada Pell, whose gifts are in it.',
      'Everyone who gave: Ada Pell and Bo Ferris.',
      'Listed by name, the same weight for a case, a chip or an afternoon’s help.\n',
    ])
  })

  it('leave no empty line where nobody is named', () => {
    const text = videoDescription({ name: 'Long Bench Day', causeName: '' }, [], named())
    expect(text).not.toContain('Everyone')
    expect(text.split('\n\n')).toHaveLength(2)
  })
})
