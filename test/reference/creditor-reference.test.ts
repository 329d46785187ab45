import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { isGoodCreditorReference, makeCreditorReference, showCreditorReference } from '#money/journal/creditor-reference.rules'

/** ISO 11649 references printed in the documentation and tests of independent libraries. */
const PRINTED = [
  ['539007547034', 'RF18539007547034', 'the example of the European Payments Council, repeated by several libraries'],
  ['1234512345', 'RF451234512345', 'documentation of node-iso11649 and php-iso11649'],
  ['AB2G5', 'RF68AB2G5', 'documentation of node-iso11649 and php-iso11649'],
  ['TU06FX', 'RF96TU06FX', 'documentation of iso-11649'],
  ['X2HU4TC28XTYLHASYWT91', 'RF14X2HU4TC28XTYLHASYWT91', 'documentation of iso-11649'],
  ['AB2G59X56V543', 'RF19AB2G59X56V543', 'tests of a generator of Swiss payment slips'],
  ['2348231', 'RF712348231', 'tests of creditor_reference'],
  ['1234567890', 'RF471234567890', 'tests of creditor_reference'],
] as const

describe('creditor references, against printed ones', () => {
  it.each(PRINTED)('%s becomes %s (%s)', (body, reference) => {
    expect(makeCreditorReference(body)).toBe(reference)
    expect(isGoodCreditorReference(reference)).toBe(true)
  })

  it.each(['RF19GAX8WS5JYOOUJ87', '123456789', 'RF18 5390 0754 7035', 'RF'])('%s is refused', (text) => {
    expect(isGoodCreditorReference(text)).toBe(false)
  })

  it('spaces and small letters are no fault', () => {
    expect(isGoodCreditorReference('rf18 5390 0754 7034')).toBe(true)
    expect(showCreditorReference('RF18539007547034')).toBe('RF18 5390 0754 7034')
  })

  // A letter counts as two digits, so a digit in its place moves all that stands before it: of those, one in 97 slips through.
  it('finds every single digit put for another, and every letter', () => {
    const [digits, capitals] = ['0123456789', 'ABCDEFGHIJKLMNOPQRSTUVWXYZ']
    const body = fc.string({ unit: fc.constantFrom(...digits, ...capitals), minLength: 1, maxLength: 21 })
    fc.assert(
      fc.property(body, fc.nat(), fc.nat(), (text, place, other) => {
        const good = makeCreditorReference(text)
        const index = 4 + (place % text.length)
        const kind = digits.includes(good[index] ?? '') ? digits : capitals
        const bad = good.slice(0, index) + kind[other % kind.length] + good.slice(index + 1)
        expect(isGoodCreditorReference(bad)).toBe(bad === good)
      }),
      { numRuns: 2_000 },
    )
  })
})
