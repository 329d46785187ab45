import { expect, it } from 'vitest'
import { compareMatch, isIdcode } from '../../server/units/match.rules'

const SHA = 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'

it('a file read back is the named image only to the last digit', () => {
  expect(compareMatch(SHA.toUpperCase(), SHA)).toMatchObject({ ok: true, isSame: true })
  expect(compareMatch(`${SHA.slice(0, 63)}e`, SHA)).toMatchObject({ ok: true, isSame: false })
})

it('an identification code is eight hexadecimal digits, written as people write them', () => {
  expect(compareMatch('1BA0_2093', '0x1ba02093')).toMatchObject({ ok: true, isSame: true, read: '1ba02093' })
  expect(compareMatch('０ｘ１BA０２０９５', '0x1ba02093')).toMatchObject({ ok: true, isSame: false })
})

it.each([
  ['', '0x1ba02093', /Write the identification code/],
  ['', SHA, /Choose the file/],
  ['1ba0209', '0x1ba02093', /eight digits/],
  ['1ba02092', '0x1ba02093', /last bit is 1/],
  ['abc', SHA, /64 digits/],
  [SHA, null, /does not say what to expect/],
])('"%s" against %s is refused with words', (text, expects, words) => {
  expect(compareMatch(text, expects)).toMatchObject({ ok: false, words: expect.stringMatching(words) })
})

it('the last bit of an identification code is 1 (IEEE 1149.1)', () => {
  expect(isIdcode('1ba02093')).toBe(true)
  expect(isIdcode('1ba02092')).toBe(false)
})
