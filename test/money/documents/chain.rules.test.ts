import fc from 'fast-check'
import { expect, test } from 'vitest'
import { invoicedBy, nextDocument, type Stated, statedBy } from '#money/documents/chain.rules'
import type { DocumentContent } from '#money/documents/documents.contract'
import { taxWithin } from '#money/documents/tax.rules'

const LINES = [
  ['a', 'price'],
  ['a', 'postage'],
  ['b', 'price'],
] as const

const standing = (minors: readonly number[]): Stated[] =>
  LINES.map(([contract, of], at) => ({ contract, lot: contract === 'a' ? 1 : 2, of, words: `${contract} ${of}`, minor: minors[at] ?? 0 }))

const content = (kind: DocumentContent['kind'], lines: readonly Stated[]): DocumentContent =>
  ({ kind, lines: lines.map(({ minor, ...line }) => ({ ...line, grossMinor: minor, taxMinor: 0 })) }) as unknown as DocumentContent

test('whatever becomes of a sale, its documents add up to what stands, and a credit note never credits more than was invoiced', () => {
  const amounts = fc.tuple(fc.nat(500), fc.nat(500), fc.nat(500))
  fc.assert(
    fc.property(amounts, fc.array(amounts, { maxLength: 12 }), (first, changes) => {
      const chain = [content('invoice', standing(first))]
      for (const change of changes) {
        const next = nextDocument(chain, standing(change))
        if (next) {
          if (next.kind === 'credit note') expect(next.lines.every(({ minor }) => minor > 0)).toBe(true)
          const before = invoicedBy(chain)
          chain.push(content(next.kind, next.lines))
          expect(invoicedBy(chain) - before).toBe(next.differenceMinor)
        }
        expect(invoicedBy(chain)).toBe(change.reduce((sum, minor) => sum + minor, 0))
        expect(statedBy(chain).every(({ minor }) => minor >= 0)).toBe(true)
        expect(nextDocument(chain, standing(change))).toBeNull()
      }
    }),
  )
})

test.each([
  [6200, 2000, 1033],
  [120, 2000, 20],
  [107, 700, 7],
  [1, 2000, 0],
  [3, 2000, 1],
  [-6200, 2000, -1033],
  [0, 2000, 0],
])('%i at %i basis points contains %i', (gross, taxRateBp, tax) => {
  expect(taxWithin(gross, { taxScheme: 'rate', taxRateBp })).toBe(tax)
  expect(taxWithin(gross, { taxScheme: 'margin', taxRateBp })).toBe(0)
})
