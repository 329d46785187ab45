import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { HOUR, MINUTE } from '#kernel/instant'
import { planClosing } from '#sale/closings/closings.service'
import { readLadder } from '#sale/price/ladder.rules'
import { askSlip } from '#sale/price/slip.rules'
import { makeBidder, makeOpenLot, makePreparedLot } from '#test/make/lot'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

describe('the ladder', () => {
  const rows = (...rungs: [string, string][]) => rungs.map(([from, step]) => ({ from, step }))

  it('of a lot is its own, else the campaign’s, else the house’s; fixed when it opens', async () => {
    const { number } = await makePreparedLot(stage)
    const maker = await stage.as('maker')
    expect(await maker.lots.ladder({ lot: number })).toMatchObject({ from: 'house', ladder: [{ stepMinor: 200 }, {}, {}, {}, {}] })
    await maker.lots.saveLadder({ lot: null, rows: rows(['0', '3']) })
    expect(await maker.lots.ladder({ lot: number })).toMatchObject({ from: 'campaign', ladder: [{ fromMinor: 0, stepMinor: 300 }] })
    await maker.lots.saveLadder({ lot: number, rows: rows(['0', '7'], ['100', '10'], ['', '']) })
    await maker.bidding.open({ lot: number })
    const [ada, ben] = [await makeBidder(stage, 'Ada'), await makeBidder(stage, 'Ben')]
    await ada.bid(number, '60')
    expect(await ben.bid(number, '90')).toMatchObject({ standingMinor: 6700 })
    await expect(maker.lots.saveLadder({ lot: number, rows: rows(['0', '1']) })).rejects.toThrow('fixed when it opened')
    await maker.lots.saveLadder({ lot: null, rows: [] })
    expect(await maker.lots.ladder({ lot: null })).toMatchObject({ from: 'house' })
    expect(await ada.bid(number, '120')).toMatchObject({ standingMinor: 9700 })
  })

  it.each([
    [[['5', '2']], 'rows.0.from', 'begins at 0'],
    [[['0', '0']], 'rows.0.step', 'above zero'],
    [
      [
        ['0', '2'],
        ['0', '5'],
      ],
      'rows.1.from',
      'begins higher',
    ],
    [
      [
        ['0', '5'],
        ['50', '2'],
      ],
      'rows.1.step',
      'never smaller',
    ],
    [[['0', 'x']], 'rows.0.step', 'is not an amount'],
    [[['0', '']], 'rows.0.step', 'Write an amount'],
  ])('of %j is refused at %s', (typed, field, words) => {
    const made = () =>
      readLadder(
        typed.map(([from = '', step = ''], index) => ({ from, step, index })),
        'GBP',
      )
    expect(made).toThrow(words)
    expect(made).toThrow(expect.objectContaining({ fields: { [field]: expect.stringContaining(words) } }))
  })
})

describe('an amount that may be a slip of the finger', () => {
  it.each([
    [16_500, 24_000, 48_000, null],
    [16_500, 24_000, 48_001, 'Is £480.01 what you mean? It is more than twice the high estimate of £240.'],
    [2000, 24_000, 20_000, null],
    [2000, 24_000, 20_001, 'Is £200.01 what you mean? It is 10 times the standing bid of £20.'],
    [16_500, null, 165_000, null],
    [16_500, null, 165_001, 'Is £1,650.01 what you mean? It is 10 times the standing bid of £165.'],
    [null, null, 20_000, null],
    [null, null, 21_000, 'Is £210.00 what you mean? It is 10 times the opening price of £20.'],
  ])('standing bid %s, high estimate %s: %d asks %s', (standingMinor, highMinor, amount, question) => {
    expect(askSlip({ currency: 'GBP', openingMinor: 2000, standingMinor, highMinor }, amount)).toBe(question)
  })
})

describe('a lot that is sold elsewhere', () => {
  const elsewhere = { form: { soldWhere: 'elsewhere', elsewhereUrl: 'https://hammer.oakhall.example/lot-9' } }

  it('has the same gate, closing and countdown; nobody bids on it here', async () => {
    const { number, closesAt } = await makeOpenLot(stage, elsewhere)
    expect(await stage.visitor().bidding.frame({ lot: number })).toMatchObject({ state: 'open', closesAt })
    await expect((await makeBidder(stage, 'Ada')).bid(number, '50')).rejects.toThrow('sold elsewhere: https://hammer.oakhall.example')
    await expect(stage.visitor().bidding.history({ lot: number })).rejects.toThrow('no history')
  })

  it('moves its closing when it moves there, either way, but not into the past', async () => {
    const { number, closesAt } = await makeOpenLot(stage, elsewhere)
    await stage.command((turn) => planClosing(turn, number, closesAt - MINUTE))
    await stage.command((turn) => planClosing(turn, number, closesAt + MINUTE))
    expect((await stage.visitor().bidding.frame({ lot: number }))?.closesAt).toBe(closesAt + MINUTE)
    await expect(stage.command((turn) => planClosing(turn, number, stage.clock.now()))).rejects.toThrow('past')
  })

  it('has its result entered by hand with its source, which everybody can read, and it enters the journal', async () => {
    const { number, closesAt } = await makeOpenLot(stage, elsewhere)
    const treasurer = await stage.as('treasurer')
    stage.clock.set(closesAt + HOUR)
    await expect(treasurer.bidding.elsewhereResult({ lot: number, hammer: '210', source: '' })).rejects.toThrow(
      'where the result comes from',
    )
    await treasurer.bidding.elsewhereResult({ lot: number, hammer: '210', source: 'https://hammer.oakhall.example/lot-9/result' })
    expect((await stage.visitor().lotPage.page({ lot: number })).card).toMatchObject({
      state: 'sold',
      hammerMinor: 21_000,
      endedAt: closesAt,
      resultSource: 'https://hammer.oakhall.example/lot-9/result',
    })
    expect(stage.facts().map(({ kind }) => kind)).toContain('money.hammer')
    await expect(treasurer.bidding.elsewhereResult({ lot: number, hammer: '220', source: 'Again.' })).rejects.toThrow('no result to enter')
  })
})

describe('a correction', () => {
  it('reaches every open page with the lot’s frame, at once', async () => {
    const { number } = await makeOpenLot(stage)
    expect((await stage.visitor().bidding.frame({ lot: number }))?.corrections).toEqual([])
    await (await stage.as('maker')).bidding.correct({ lot: number, words: 'The case is beech, not oak.' })
    expect((await stage.visitor().bidding.frame({ lot: number }))?.corrections).toEqual([
      { at: stage.clock.now(), words: 'The case is beech, not oak.' },
    ])
  })
})

describe('whoever lost', () => {
  it('is shown the open lots that are likest: those of the same run, and after them any other', async () => {
    const first = await makeOpenLot(stage)
    const other = await makeOpenLot(stage, { tag: 'WREN-01' })
    const like = await makeOpenLot(stage, { tag: 'TERN-04', closesIn: 2 * HOUR })
    await stage.command(({ db }) =>
      db.run(`UPDATE unit SET number = 2, run_id = (SELECT run_id FROM unit WHERE id = '${first.unitId}') WHERE id = '${like.unitId}'`),
    )
    const page = await stage.visitor().lotPage.page({ lot: first.number })
    // The other closes an hour before, and is another machine.
    expect(page.like.map(({ number }) => number)).toEqual([like.number, other.number])
  })
})

describe('a void after the end', () => {
  it('is refused: a lot has one end', async () => {
    const { number, closesAt } = await makeOpenLot(stage)
    const { alias } = await (await makeBidder(stage, 'Ada')).bid(number, '50')
    await (await stage.as('host')).bidding.askVoid({ lot: number, alias, reason: 'In error.' })
    const askedAt = stage.clock.now()
    stage.clock.set(closesAt)
    await expect((await stage.as('maker')).bidding.agreeVoid({ lot: number, alias, askedAt })).rejects.toThrow('its end stands')
  })
})
