import { expect, test } from 'vitest'
import { checkCharacter, hasGoodCheckCharacter } from '#kernel/ids'

// ISO/IEC 7064 MOD 37-2; three independent implementations agree on these (corroborated).
test.each([
  ['G123498654321', 'H'],
  ['A999914123456', 'N'],
])('the check character of %s is %s', (body, check) => {
  expect(checkCharacter(body)).toBe(check)
})

const ALPHABET = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ'
const CODE = `TERN03B0147${checkCharacter('TERN03B0147')}`

test('each single wrong character is found', () => {
  for (let at = 0; at < CODE.length; at++)
    for (const other of `${ALPHABET}*`)
      if (other !== CODE[at]) expect(hasGoodCheckCharacter(CODE.slice(0, at) + other + CODE.slice(at + 1))).toBe(false)
})

test('each swap of neighbours is found', () => {
  for (let at = 0; at + 1 < CODE.length; at++) {
    const swapped = CODE.slice(0, at) + CODE[at + 1] + CODE[at] + CODE.slice(at + 2)
    if (swapped !== CODE) expect(hasGoodCheckCharacter(swapped)).toBe(false)
  }
})

test('hyphens and small letters are read over', () => {
  expect(hasGoodCheckCharacter(`tern-03-b0147-${CODE.slice(-1).toLowerCase()}`)).toBe(true)
  expect(hasGoodCheckCharacter('')).toBe(false)
  expect(hasGoodCheckCharacter('TERN 03')).toBe(false)
})
