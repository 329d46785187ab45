import { Mod37_2 } from '@konfirm/iso7064'
import { describe, expect, test } from 'vitest'
import { checkCharacter, hasGoodCheckCharacter } from '#kernel/ids'
import { readIdcode } from '#stock/catalogue/idcode.rules'
import { batchTag, pieceTag } from '#stock/shelf/piece.rules'
import vectors from './check-characters.json'
import idcodes from './idcode.json'

const ALPHABET = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ'

describe('ISO/IEC 7064 MOD 37-2', () => {
  test.each(vectors.rows)('the published check character of $payload is $check', ({ payload, check }) => {
    expect(checkCharacter(payload)).toBe(check)
  })

  test('an independent library finds the same for two thousand tags', () => {
    for (let number = 1; number <= 2000; number++) {
      const bare = pieceTag(number * 37).replaceAll('-', '')
      expect(Mod37_2.checksum(bare.slice(0, -1))).toBe(bare.slice(-1))
      expect(Mod37_2.validate(bare)).toBe(true)
    }
  })

  test.each([pieceTag(1), pieceTag(42), pieceTag(9999), pieceTag(10000), batchTag(147)])(
    'every single wrong character and every swap of neighbours in %s is found',
    (tag) => {
      const bare = tag.replaceAll('-', '')
      expect(hasGoodCheckCharacter(bare)).toBe(true)
      for (let at = 0; at < bare.length; at++) {
        for (const wrong of `${ALPHABET}*`) {
          if (wrong === bare[at]) continue
          const typed = bare.slice(0, at) + wrong + bare.slice(at + 1)
          expect(`${typed} ${hasGoodCheckCharacter(typed)}`).toBe(`${typed} false`)
        }
        const swapped = bare.slice(0, at) + (bare[at + 1] ?? '') + (bare[at] ?? '') + bare.slice(at + 2)
        if (at + 1 < bare.length && swapped !== bare) expect(`${swapped} ${hasGoodCheckCharacter(swapped)}`).toBe(`${swapped} false`)
      }
    },
  )
})

test.each(idcodes.rows)('the identification code of $name ends in the 1 of IEEE 1149.1', ({ hex, lsb }) => {
  expect(readIdcode(hex).ok).toBe(lsb === 1)
})
