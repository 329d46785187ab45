import { describe, expect, test } from 'vitest'
import { hasGoodCheckCharacter } from '#kernel/ids'
import { partWords, readPart } from '#stock/catalogue/part.rules'
import type { BatchCount } from '#stock/shelf/piece.rules'
import { batchCode, countsAsGood, goodInHand, pieceTag, verdictAfter } from '#stock/shelf/piece.rules'

describe('tags and codes', () => {
  test('batches count from B-0001 and grow past four digits', () => {
    expect([1, 147, 9999, 10000].map(batchCode)).toEqual(['B-0001', 'B-0147', 'B-9999', 'B-10000'])
  })

  test('a piece has a tag whose check character finds one wrong digit and one swap', () => {
    for (const number of [1, 12, 4711, 10000]) {
      const tag = pieceTag(number)
      expect(hasGoodCheckCharacter(tag)).toBe(true)
      for (const digit of '0123456789') {
        const wrong = tag.replace(/\d(?=-.$)/, digit)
        if (wrong !== tag) expect(hasGoodCheckCharacter(wrong)).toBe(false)
      }
    }
    expect(hasGoodCheckCharacter(pieceTag(12).replace('0012', '0021'))).toBe(false)
  })
})

describe('the verdict stands apart from the symptom', () => {
  test('a piece that one reader refuses is "reader uncertain"', () => {
    expect(verdictAfter([{ reader: 'reader 1', verdict: 'dead' }], true)).toBe('reader uncertain')
    expect(verdictAfter([{ reader: 'reader 1', verdict: 'locked' }], true)).toBe('reader uncertain')
  })

  test('until a second reader agrees', () => {
    expect(
      verdictAfter(
        [
          { reader: 'reader 1', verdict: 'dead' },
          { reader: 'reader 2', verdict: 'dead' },
        ],
        true,
      ),
    ).toBe('dead')
  })

  test('the same reader twice is one reader, however it is written', () => {
    expect(
      verdictAfter(
        [
          { reader: 'Reader 1', verdict: 'dead' },
          { reader: ' reader 1', verdict: 'dead' },
        ],
        true,
      ),
    ).toBe('reader uncertain')
  })

  test('a second reader that can read it clears it', () => {
    const looks = [
      { reader: 'reader 1', verdict: 'dead' },
      { reader: 'reader 2', verdict: 'good and blank' },
    ] as const
    expect(verdictAfter(looks, true)).toBe('good and blank')
  })

  test('two readers that refuse in different ways do not agree', () => {
    const looks = [
      { reader: 'reader 1', verdict: 'dead' },
      { reader: 'reader 2', verdict: 'locked' },
    ] as const
    expect(verdictAfter(looks, true)).toBe('reader uncertain')
  })

  test('a board needs no second look, and nobody looked is said', () => {
    expect(verdictAfter([{ reader: 'by eye', verdict: 'dead' }], false)).toBe('dead')
    expect(verdictAfter([], true)).toBe('not inspected')
  })

  test('a suspicion by one is enough', () => {
    expect(verdictAfter([{ reader: 'by eye', verdict: 'suspect' }], true)).toBe('suspect')
  })

  test('a programmed part is good only once it was read; of others what was not looked at is', () => {
    expect(countsAsGood('not inspected', true)).toBe(false)
    expect(countsAsGood('not inspected', false)).toBe(true)
    expect(countsAsGood('unknown image', true)).toBe(false)
    expect(countsAsGood('good and programmed', true)).toBe(true)
  })
})

describe('good pieces in hand', () => {
  const batch: BatchCount = { quantity: 20, bad: 2, quarantined: false, loosePieces: [], fitted: 14, programmed: false }
  test('are what came, less the bad and the fitted', () => {
    expect(goodInHand(batch)).toBe(4)
  })
  test('are none in quarantine', () => {
    expect(goodInHand({ ...batch, quarantined: true })).toBe(0)
  })
  test('are less the tagged pieces that are not good', () => {
    expect(goodInHand({ ...batch, loosePieces: ['dead', 'good', 'not inspected'] })).toBe(3)
    expect(
      goodInHand({
        quantity: 3,
        bad: 0,
        quarantined: false,
        loosePieces: ['not inspected', 'good and blank', 'dead'],
        fitted: 0,
        programmed: true,
      }),
    ).toBe(1)
  })
  test('are never below nought', () => {
    expect(goodInHand({ ...batch, fitted: 19 })).toBe(0)
  })
})

describe('a catalogue entry is one, however it is written', () => {
  const resistor = { kind: 'resistor', name: 'Resistor' } as const
  test.each(['4k7', '4.7K', '4700', '４ｋ７', '4.7 kΩ'])('%s', (value) => {
    expect(readPart({ ...resistor, value })).toMatchObject({ ok: true, value: '4.7 kΩ', sameness: '2|resistor|4.7 kΩ||||||' })
  })
  test('its name tells chips apart, and what it says of resistors', () => {
    const one = readPart({ kind: 'chip', name: 'PLD-22' })
    const other = readPart({ kind: 'chip', name: 'PLD-24' })
    expect(one.ok && other.ok && one.sameness !== other.sameness).toBe(true)
    const quarter = readPart({ ...resistor, name: 'resistor 1/4 W', value: '4k7' })
    expect(quarter).toMatchObject({ sameness: '2|resistor|4.7 kΩ||||0.25 W||' })
  })
  test('another package is another part', () => {
    const one = readPart({ ...resistor, value: '4k7', package: '0805' })
    const other = readPart({ ...resistor, value: '4k7', package: 'axial' })
    expect(one.ok && other.ok && one.sameness !== other.sameness).toBe(true)
  })
  test('a value that cannot be read is refused at its field', () => {
    expect(readPart({ ...resistor, value: '10 µH' })).toMatchObject({ ok: false, field: 'value' })
  })
  test('a value that nobody makes is asked about, not refused', () => {
    expect(readPart({ ...resistor, value: '4k8' })).toMatchObject({ ok: true, hint: '4k8 is in no series up to E96; 4k7?' })
  })
  test('it is named in a sentence as one would say it', () => {
    expect(partWords({ kind: 'resistor', name: 'Resistor', value: '4.7 kΩ', package: '0805', rating: '0.25 W' })).toBe(
      '4.7 kΩ resistor, 0805, 0.25 W',
    )
    expect(partWords({ kind: 'chip', name: 'Logic device', value: 'PLD-22', package: '', rating: '' })).toBe('Logic device PLD-22')
  })
})
