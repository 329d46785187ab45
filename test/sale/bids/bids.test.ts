import { bytesToHex, hexToBytes } from '@noble/hashes/utils.js'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { reading } from '#db/schema/index'
import { HOUR } from '#kernel/instant'
import { openNote } from '#sale/history/checkpoint.rules'
import { commitmentTo, hashOfLeaf } from '#sale/history/ledger.rules'
import { isIncluded } from '#sale/history/merkle.rules'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

describe('placing a bid', () => {
  it('leads at the opening price, and a second bidder lifts it to one step over', async () => {
    const { number } = await makeOpenLot(stage)
    const [ada, ben] = [await makeBidder(stage, 'Ada'), await makeBidder(stage, 'Ben')]
    expect(await ada.bid(number, '210.00')).toMatchObject({ leads: true, standingMinor: 2000, maximumMinor: 21_000 })
    expect(await ben.bid(number, '£155')).toMatchObject({ leads: false, standingMinor: 16_500 })
    expect(await stage.visitor().bidding.frame({ lot: number })).toMatchObject({
      standingMinor: 16_500,
      bids: 2,
      leastNextMinor: 17_500,
      reserve: 'none',
    })
  })

  it('sent twice with one key has one effect and the same answer', async () => {
    const { number } = await makeOpenLot(stage)
    const ada = await makeBidder(stage, 'Ada')
    const key = 'the-very-same-key'
    const [first, again] = [await ada.bid(number, '50', key), await ada.bid(number, '50', key)]
    expect(again).toEqual(first)
    expect(await stage.visitor().bidding.frame({ lot: number })).toMatchObject({ bids: 1 })
    await expect(ada.bid(number, '60', key)).rejects.toThrow('already sent with a different amount')
    await expect((await makeBidder(stage, 'Ben')).bid(number, '50', key)).rejects.toThrow('already sent')
  })

  it.each([
    ['', 'Write an amount'],
    ['1e308', 'is not an amount'],
    ['-20', 'above zero'],
    ['20.005', 'has 2 decimals'],
    ['９９９９９９９９９９９９', 'more than can be taken'],
    ['19.99', 'must be at least £20.00'],
    ['1000.01', 'Your paddle may bid up to £1,000.00'],
  ])('of "%s" is refused in words and leaves no trace', async (maximum, words) => {
    const { number } = await makeOpenLot(stage)
    const ada = await makeBidder(stage, 'Ada')
    const before = stage.facts().length
    await expect(ada.bid(number, maximum)).rejects.toThrow(words)
    expect(stage.facts()).toHaveLength(before)
    expect((await ada.caller.bidding.myBids()).lots).toEqual([])
  })

  it('reads full-width digits', async () => {
    const { number } = await makeOpenLot(stage)
    expect(await (await makeBidder(stage, 'Ada')).bid(number, '２１０')).toMatchObject({ maximumMinor: 21_000 })
  })

  it('is taken a millisecond before the closing and refused at it, whatever the sweep does', async () => {
    const { number, closesAt } = await makeOpenLot(stage)
    const ada = await makeBidder(stage, 'Ada')
    stage.clock.set(closesAt)
    await expect(ada.bid(number, '50')).rejects.toThrow('This lot has closed')
    expect(await stage.visitor().bidding.frame({ lot: number })).toMatchObject({ state: 'unsold', endedAt: closesAt, bids: 0 })
    const other = await makeOpenLot(stage, { tag: 'TERN-04' })
    stage.clock.set(other.closesAt - 1)
    await expect(ada.bid(other.number, '50')).resolves.toMatchObject({ leads: true })
  })

  it('in the last two minutes moves the closing for everybody', async () => {
    const { number, closesAt } = await makeOpenLot(stage)
    stage.clock.set(closesAt - 1000)
    await (await makeBidder(stage, 'Ada')).bid(number, '50')
    expect(await stage.visitor().bidding.frame({ lot: number })).toMatchObject({
      closesAt: closesAt + 119_000,
      extendedTimes: 1,
      ledgerSize: 3,
    })
    expect(stage.facts().map(({ kind }) => kind)).toContain('lot.extended')
  })
})

describe('who may bid', () => {
  it('not the staff, whatever their role', async () => {
    const { number } = await makeOpenLot(stage)
    for (const role of ['maker', 'volunteer', 'treasurer', 'host'] as const) {
      await expect((await stage.as(role)).bidding.place({ lot: number, maximum: '50', key: 'k'.repeat(20) })).rejects.toThrow(
        'The staff of this sale cannot bid',
      )
    }
  })

  it('not somebody who is not signed in or has no paddle', async () => {
    const { number } = await makeOpenLot(stage)
    await expect(stage.visitor().bidding.place({ lot: number, maximum: '50', key: 'k'.repeat(20) })).rejects.toThrow('Sign in first')
    await expect((await stage.as('bidder', 'Cleo')).bidding.place({ lot: number, maximum: '50', key: 'k'.repeat(20) })).rejects.toThrow(
      'Take a paddle first',
    )
  })

  it('not somebody to whose country it is not sent', async () => {
    const { number } = await makeOpenLot(stage)
    await expect((await makeBidder(stage, 'Jun', 'JP')).bid(number, '50')).rejects.toThrow('cannot be sent to the country on your paddle')
  })

  it('not somebody who tested the machine, even if they have left the staff', async () => {
    const { number, unitId } = await makeOpenLot(stage)
    const dan = await makeBidder(stage, 'Dan')
    const numbers = {
      value: 8.02,
      unit: 'V',
      decimals: 2,
      rule: 'simple',
      verdict: 'pass',
      instrumentOverdue: false,
      ambient: '',
      note: '',
    } as const
    const row = {
      id: 'r1',
      unitId,
      seq: 1,
      checkKey: 'B6',
      at: 0,
      byPersonId: dan.actor.personId,
      entry: '8.02',
      ...numbers,
      batches: {},
      revision: '3',
    }
    await stage.command(({ db }) => db.insert(reading).values(row).run())
    await expect(dan.bid(number, '50')).rejects.toThrow('You tested this machine')
  })
})

describe('what is told to whom', () => {
  it('nobody sees a maximum, a reserve or a name but their owner', async () => {
    const { number } = await makeOpenLot(stage, { form: { reserveKind: 'amount', reserve: '777.77' } })
    const ada = await makeBidder(stage, 'Ada')
    await ada.bid(number, '543.21')
    const open = JSON.stringify([
      await stage.visitor().lotPage.cards(),
      await stage.visitor().lotPage.page({ lot: number }),
      await stage.visitor().bidding.frames(),
      await stage.visitor().bidding.history({ lot: number }),
      stage.facts().filter(({ kind }) => kind.startsWith('lot.')),
    ])
    for (const secret of ['54321', '543.21', '77777', '777.77', 'Ada', ada.actor.personId, ada.actor.email])
      expect(open).not.toContain(secret)
    expect(await ada.caller.bidding.mySide({ lot: number })).toMatchObject({
      maximumMinor: 54_321,
      leads: true,
      postageMinor: 1200,
      barred: null,
    })
    expect(await (await makeBidder(stage, 'Ben')).caller.bidding.mySide({ lot: number })).toMatchObject({
      maximumMinor: null,
      leads: false,
      alias: null,
    })
  })

  it('a paddle is asked for only of those who may bid once they have one', async () => {
    const { number } = await makeOpenLot(stage)
    const side = async (role: 'bidder' | 'host') => (await stage.as(role, 'Cato')).bidding.mySide({ lot: number })
    expect(await side('bidder')).toMatchObject({ lacksPaddle: true })
    expect(await side('host')).toMatchObject({ lacksPaddle: false, barred: 'The staff of this sale cannot bid in it.' })
  })

  it('an alias is another one on each lot', async () => {
    const [first, second] = [await makeOpenLot(stage), await makeOpenLot(stage, { tag: 'TERN-04' })]
    const ada = await makeBidder(stage, 'Ada')
    const aliases = [await ada.bid(first.number, '50'), await ada.bid(second.number, '50'), await ada.bid(first.number, '60')].map(
      ({ alias }) => alias,
    )
    expect(aliases[0]).toBe(aliases[2])
    expect(aliases.every((alias) => /^[2-9][A-Z]$/.test(alias))).toBe(true)
  })

  it('a bidder sees everything they said and the most it can cost today', async () => {
    const [first, second] = [await makeOpenLot(stage), await makeOpenLot(stage, { tag: 'TERN-04' })]
    const [ada, ben] = [await makeBidder(stage, 'Ada', 'NO'), await makeBidder(stage, 'Ben')]
    await ada.bid(first.number, '210')
    await ada.bid(second.number, '100')
    await ben.bid(second.number, '300')
    const mine = await ada.caller.bidding.myBids()
    expect(mine.mostMinor).toBe(21_000 + 1800)
    expect(mine.lots.map(({ leads, mostMinor }) => [leads, mostMinor])).toEqual([
      [true, 22_800],
      [false, 0],
    ])
  })
})

describe('the receipt', () => {
  it('leads from the bid’s own entry to a head that the house signed, and opens the commitment', async () => {
    const { number, closesAt } = await makeOpenLot(stage)
    const [ada, ben] = [await makeBidder(stage, 'Ada'), await makeBidder(stage, 'Ben')]
    await ada.bid(number, '50')
    stage.clock.set(closesAt - 1000)
    for (const [who, amount] of [
      [ben, '80'],
      [ada, '90'],
      [ada, '95'],
      [ben, '150'],
    ] as const) {
      const { receipt } = await who.bid(number, amount)
      const { leaf, index, size, path, checkpoint, opening } = receipt
      const note = openNote(checkpoint)
      expect(note?.head.size).toBe(size)
      const inclusion = { index, size, leaf: hashOfLeaf(leaf), path: path.map(hexToBytes) }
      expect(isIncluded(inclusion, note?.head.root ?? new Uint8Array())).toBe(true)
      expect(leaf.kind === 'bid' && leaf.commitment).toBe(commitmentTo(opening))
      expect((await stage.visitor().bidding.frame({ lot: number }))?.headHash).toBe(bytesToHex(note?.head.root ?? new Uint8Array()))
    }
    stage.clock.pass(HOUR)
  })
})
