import { TRPCError } from '@trpc/server'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { ZodError } from 'zod'
import { Refusal } from '#kernel/refusal'
import { issueWords } from '#runtime/call/issue-words'
import { isKeptRight } from '#sale/bids/kept-right.service'
import { loadOpenedLot } from '#sale/bids/lot-state.service'
import { takeBid } from '#sale/bids/take-bid.service'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

const KEY = 'the-key-of-one-form'

describe('an amount', () => {
  // What is no amount, or none that may be bid; each is answered in a sentence at its field and leaves nothing behind.
  it.each([
    '0',
    '−0',
    '-0',
    '-1',
    '−1',
    '1e308',
    '1e3',
    'NaN',
    'Infinity',
    '9007199254740994',
    '0x50',
    '210.000',
    '50.005',
    '5 0.0.0',
    '50,00,00',
    '٥٠',
    '५०',
    '',
    ' ',
    '50 or 60',
    '£',
    'GBP',
    '50;',
    '+',
    '½',
    '1/2',
    '\u0000',
    '\ud800',
    '50'.repeat(30),
    0,
    -0,
    -1,
    50,
    1e308,
    Number.NaN,
    2 ** 53 + 2,
    null,
    undefined,
    true,
    [],
    ['50'],
    {},
    { amount: '50' },
  ])('of %j is refused in words, and nothing is kept', async (maximum) => {
    const { number } = await makeOpenLot(stage)
    const ada = await makeBidder(stage, 'Ada')
    const before = stage.facts().length
    const refused = await ada.bid(number, maximum as string).catch((reason: unknown) => reason)
    expect(refused).toBeInstanceOf(TRPCError)
    expect((refused as TRPCError).code).toBe('BAD_REQUEST')
    if (typeof maximum === 'string' && maximum.length <= 80) {
      const { cause, message } = refused as TRPCError
      // What no text holds is refused by the form's shape, all else by whoever reads amounts.
      const words = cause instanceof ZodError ? issueWords(cause).maximum : cause instanceof Refusal ? message : undefined
      expect(words).toMatch(/^["£A-Z].*\.$/s)
    }
    expect(stage.facts()).toHaveLength(before)
    expect(await stage.visitor().bidding.frame({ lot: number })).toMatchObject({ bids: 0, ledgerSize: 1 })
  })

  it.each([
    [' 210', 21_000],
    ['210 ', 21_000],
    ['£210', 21_000],
    ['210.00', 21_000],
    ['210,00', 21_000],
    ['0210', 21_000],
    ['２１０', 21_000],
    ['210.0', 21_000],
    ['1.000,00', 100_000],
  ])('of "%s" is read as people mean it', async (maximum, minor) => {
    const { number } = await makeOpenLot(stage)
    expect(await (await makeBidder(stage, 'Ada')).bid(number, maximum)).toMatchObject({ maximumMinor: minor })
  })
})

describe('sent again', () => {
  it('a thousand times at once with one key it has one effect and one answer', async () => {
    const { number } = await makeOpenLot(stage)
    const ada = await makeBidder(stage, 'Ada')
    const answers = await Promise.allSettled(Array.from({ length: 1000 }, () => ada.bid(number, '50', KEY)))
    const taken = answers.flatMap((one) => (one.status === 'fulfilled' ? [JSON.stringify(one.value)] : []))
    expect(new Set(taken).size).toBe(1)
    // What is above the limit of one account is turned away, which is an answer too; the key makes it safe to send again.
    const words = answers.flatMap((one) => (one.status === 'rejected' ? [String(one.reason.message)] : []))
    expect(words.every((one) => one.includes('too many bids at once'))).toBe(true)
    expect(await stage.visitor().bidding.frame({ lot: number })).toMatchObject({ bids: 1, ledgerSize: 2 })
  })

  it('a thousand bidders at once each get an answer, the highest leads and every step was legal', async () => {
    const { number } = await makeOpenLot(stage)
    const bidders: Awaited<ReturnType<typeof makeBidder>>[] = []
    for (let index = 0; index < 50; index++)
      bidders.push(await makeBidder(stage, `Bidder ${'abcdefghij'[index % 10]}${'abcde'[Math.floor(index / 10)]}`))
    const answers = await Promise.allSettled(
      Array.from({ length: 1000 }, (_, index) =>
        bidders[index % 50]?.bid(number, String(20 + ((index * 7919) % 900)), `all-at-once-${String(index).padStart(8, '0')}`),
      ),
    )
    const taken = answers.flatMap((one) => (one.status === 'fulfilled' && one.value ? [one.value.maximumMinor] : []))
    for (const one of answers)
      if (one.status === 'rejected') expect(String(one.reason.message)).toMatch(/^(Your bid must be|You lead already)/)
    const frame = await stage.visitor().bidding.frame({ lot: number })
    expect(frame).toMatchObject({ bids: taken.length, ledgerSize: taken.length + 1 })
    const sides = await Promise.all(bidders.map(({ caller }) => caller.bidding.mySide({ lot: number })))
    expect(sides.find(({ leads }) => leads)?.maximumMinor).toBe(Math.max(...taken))
    expect(isKeptRight(stage.sight(), number)).toBe(true)
  })

  it.each([
    ['another amount', (other: number) => ({ lot: 1, maximum: '60', other })],
    ['another lot', (other: number) => ({ lot: other, maximum: '50', other })],
  ])('with the same key and %s it is refused, and the first effect stands', async (_, change) => {
    await makeOpenLot(stage)
    const { number: other } = await makeOpenLot(stage, { tag: 'TERN-04' })
    const ada = await makeBidder(stage, 'Ada')
    await ada.bid(1, '50', KEY)
    const { lot, maximum } = change(other)
    await expect(ada.bid(lot, maximum, KEY)).rejects.toThrow('already sent')
    expect(await stage.visitor().bidding.frame({ lot: 1 })).toMatchObject({ bids: 1 })
    expect(await stage.visitor().bidding.frame({ lot: other })).toMatchObject({ bids: 0 })
  })
})

describe('what is kept between two bids', () => {
  it('is made anew when a command failed after its bid was taken: nothing of it is left', async () => {
    const { number } = await makeOpenLot(stage)
    const ada = await makeBidder(stage, 'Ada')
    await ada.bid(number, '50')
    const before = loadOpenedLot(stage.sight(), number)
    const failed = stage.command((turn) => {
      takeBid(turn, { personId: ada.actor.personId, role: 'bidder' }, { lot: number, key: 'a-bid-that-is-undone', maximumMinor: 9000 })
      expect(loadOpenedLot(turn, number).state.leader?.maximumMinor).toBe(9000)
      throw new Refusal('conflict', 'Something else went wrong.')
    })
    await expect(failed).rejects.toThrow('Something else')
    expect(loadOpenedLot(stage.sight(), number).state).toEqual(before.state)
    expect(isKeptRight(stage.sight(), number)).toBe(true)
    expect(await ada.bid(number, '60')).toMatchObject({ maximumMinor: 6000, leads: true })
    expect(isKeptRight(stage.sight(), number)).toBe(true)
  })
})
