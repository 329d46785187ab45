import { describe, expect, it } from 'vitest'
import { readIdcode, sayIdcode } from '#stock/catalogue/idcode.rules'

const fields = (hex: string) => {
  const answer = readIdcode(hex)
  return answer.ok ? answer.idcode : answer.words
}

describe('IEEE 1149.1-2013, 12.1: identification codes as their makers publish the registers', () => {
  it.each([
    ['0x29502093', 2, 0x9502, 0x049],
    ['0x09602093', 0, 0x9602, 0x049],
    ['0x09604093', 0, 0x9604, 0x049],
    ['0x09608093', 0, 0x9608, 0x049],
    ['0x06E5E093', 0, 0x6e5e, 0x049],
    ['0x04001093', 0, 0x4001, 0x049],
    ['0x0362D093', 0, 0x362d, 0x049],
    ['0x233261CF', 2, 0x3326, 0x0e7],
  ])('%s: version %d, part %d, maker %d', (hex, version, part, maker) => {
    expect(fields(hex)).toMatchObject({ version, part, maker })
  })

  it('a register with its top bit set is no negative number', () => {
    expect(fields('0xF1234093')).toMatchObject({ version: 15, part: 0x1234, maker: 0x049 })
  })
})

describe('JEDEC JEP106 (from memory)', () => {
  it('the upper four bits of the maker count continuation codes, the lower seven are its code', () => {
    expect(fields('0x233261CF')).toMatchObject({ bank: 2, code: 0x67 })
    expect(sayIdcode({ version: 2, part: 0x9502, maker: 0x049, bank: 1, code: 0x49 })).toBe(
      'version 2, part 0x9502, maker 0x049 (JEP106 bank 1, code 0x49)',
    )
  })

  it('0x7F is the continuation code and no maker', () => {
    const answer = readIdcode('0x123450FF')
    expect(answer.ok && sayIdcode(answer.idcode)).toContain('gives to nobody')
  })
})
