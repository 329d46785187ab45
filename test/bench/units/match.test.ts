import { expect, it } from 'vitest'
import { compareMatch } from '#bench/units/match.rules'

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

it('a code that differs says in what', () => {
  expect(compareMatch('0x0ba02093', '0x1ba02093')).toMatchObject({ differs: 'another version of the right part: 0 answered, 1 should' })
  expect(compareMatch('0x1ba12093', '0x1ba02093')).toMatchObject({
    differs: 'another part of the same maker: 0xBA12 answered, 0xBA02 should',
  })
  expect(compareMatch('0x1ba02095', '0x1ba02093')).toMatchObject({ differs: 'another maker: 0x04A answered, 0x049 should' })
})

it.each(['ffffffff', '0x00000000'])('%s is no answer but a line that hangs', (read) => {
  expect(compareMatch(read, '0x1ba02093')).toMatchObject({ ok: false, words: expect.stringContaining('nothing answered') })
})
