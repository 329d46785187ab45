import { expect, test } from 'vitest'
import { correctionTitle } from '#sale/history/leaf-words.rules'

const serial = 'TS-2027-0001-A'
test.each([
  ['The description was corrected', undefined],
  ['The certificate was withdrawn', { serial, is: 'withdrawn' as const, by: null }],
  ['Another certificate was issued', { serial, is: 'withdrawn' as const, by: 'TS-2027-0002-B' }],
  ['The certificate was superseded', { serial, is: 'superseded' as const, by: 'TS-2027-0002-B' }],
])('the page of a lot says “%s” above the words of it', (title, certificate) => {
  expect(correctionTitle({ certificate })).toBe(title)
})
