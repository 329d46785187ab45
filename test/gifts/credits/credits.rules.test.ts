import { describe, expect, it } from 'vitest'
import type { PageCredits } from '#gifts/credits/credits.contract'
import { behindUnit, thanks, videoDescription } from '#gifts/credits/credits.rules'
import type { GiftState } from '#stock/donors/donor.contract'

const gift = (id: string, state: GiftState = 'available') => ({ id, state })
const named = (...names: string[]): PageCredits => ({ names, friends: 0, line: names.join(' and ') })

describe('whose gifts are behind a unit', () => {
  it('those of the pieces fitted in it, what was given for it, and what goes with its lot, once each', () => {
    const behind = behindUnit({ fitted: [gift('crystals')], forIt: [gift('case'), gift('crystals')], withLot: [gift('aerial')] })
    expect(behind.map(({ id }) => id)).toEqual(['crystals', 'case', 'aerial'])
  })

  it.each(['promised', 'on its way', 'declined', 'returned', 'destroyed', 'quarantined'] as const)(
    'a gift for it that is %s helps nothing, nor does such an extra',
    (state) => {
      expect(behindUnit({ fitted: [], forIt: [gift('case', state)], withLot: [gift('aerial', state)] })).toEqual([])
    },
  )

  it('what is fitted is in the machine, whatever else is said of it', () => {
    expect(behindUnit({ fitted: [gift('crystals', 'quarantined')], forIt: [], withLot: [] })).toHaveLength(1)
  })

  it.each(['arrived', 'counted', 'inspected', 'available', 'fitted', 'spare'] as const)('a gift that is %s helps', (state) => {
    expect(behindUnit({ fitted: [], forIt: [gift('case', state)], withLot: [] })).toHaveLength(1)
  })
})

describe('the words of thanks', () => {
  it('name everyone, and say so when there is nobody to name', () => {
    expect(thanks(named('Ada Pell', 'Bo Ferris'), 'TERN-03')).toBe('We thank Ada Pell and Bo Ferris, whose gifts are in TERN-03.')
    expect(thanks(named(), 'TERN-03')).toBe('Nobody is named for TERN-03 yet.')
  })

  it('make a paragraph for each lot and end with everybody', () => {
    const lots = [
      { number: 7, title: 'Saltmarsh shortwave receiver', unit: 'TERN-03', text: '', live: { key: '', mark: '' }, ...named('Ada Pell') },
    ]
    const campaign = { name: 'Long Bench Day', causeName: 'Ferry Lane Repair School' }
    expect(videoDescription(campaign, lots, { all: named('Ada Pell', 'Bo Ferris'), forAll: named('Bo Ferris') }).split('\n\n')).toEqual([
      'Long Bench Day, for Ferry Lane Repair School.',
      'Lot 7, Saltmarsh shortwave receiver (TERN-03). We thank Ada Pell, whose gifts are in it.',
      'Time, postage or money for all of them: Bo Ferris.',
      'Everyone who gave: Ada Pell and Bo Ferris.',
      'Listed by name, the same weight for a case, a chip or an afternoon’s help.\n',
    ])
  })

  it('leave no empty line where nobody is named', () => {
    const text = videoDescription({ name: 'Long Bench Day', causeName: '' }, [], { all: named(), forAll: named() })
    expect(text).not.toContain('Everyone')
    expect(text.split('\n\n')).toHaveLength(2)
  })
})
