import { describe, expect, it } from 'vitest'
import { brokenBy } from '../changed.mjs'

describe('what a change can have broken', () => {
  it('is the tests that reach it by imports, those of its room, and those that look at the whole tree', async () => {
    const found = await brokenBy(['server/stock/shelf/labels-paper.ts'])
    expect(found?.tests).toEqual(
      expect.arrayContaining(['test/shape', 'test/stock/shelf/labels-paper.test.ts', 'test/stock/shelf/stock.test.ts']),
    )
    expect(found?.tests).not.toContain('test/money/bank/bank.rules.test.ts')
  })

  it('is more, the deeper the room lies: a rule of the price is reached from the floor and from the money', async () => {
    const found = await brokenBy(['server/sale/price/late-bid.rules.ts'])
    expect(found?.tests).toEqual(
      expect.arrayContaining([
        'test/sale/price/late-bid.test.ts',
        'test/sale/history/laws.test.ts',
        'test/money/booking/a-lot-is-paid.test.ts',
      ]),
    )
  })

  it('is everything where the ground was changed', async () => {
    expect(await brokenBy(['server/kernel/money.ts'])).toBeNull()
    expect(await brokenBy(['package-lock.json', 'README.md'])).toBeNull()
  })
})
