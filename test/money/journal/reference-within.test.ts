import { expect, it } from 'vitest'
import { referenceWithin } from '#money/journal/creditor-reference.rules'

// RF18 5390 0754 7034 is the worked example of ISO 11649 (from memory).
it.each([
  ['QUILL ADA RF18 5390 0754 7034 late', 'RF18539007547034'],
  ['rf18539007547034', 'RF18539007547034'],
  ['RF19 5390 0754 7034', ''],
  ['for the school', ''],
  ['', ''],
  ['RF RF18-5390-0754-7034', 'RF18539007547034'],
])('in “%s” stands “%s”', (text, reference) => expect(referenceWithin(text)).toBe(reference))
