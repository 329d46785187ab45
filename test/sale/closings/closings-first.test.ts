import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { MINUTE, SECOND } from '#kernel/instant'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

const frame = async (lot: number) => stage.visitor().bidding.frame({ lot })
const leaves = async (lot: number) => (await stage.visitor().bidding.history({ lot })).leaves

/** No sweep has run since: only the clock has passed the closing. */
async function makeDueLot() {
  const { number, closesAt } = await makeOpenLot(stage)
  const ada = await makeBidder(stage, 'Ada')
  await ada.bid(number, '50')
  stage.clock.set(closesAt)
  return { number, closesAt, ada }
}

describe('a command that comes after a closing, however late the sweep', () => {
  it('finds the lot closed at its instant, whatever the command is about', async () => {
    const { number, closesAt } = await makeDueLot()
    stage.clock.pass(7 * SECOND)
    await stage.command(() => {})
    expect(await frame(number)).toMatchObject({ state: 'sold', endedAt: closesAt, hammerMinor: 2000 })
  })

  it('closes the lot even when it is refused itself', async () => {
    const { number, closesAt } = await makeDueLot()
    await expect((await makeBidder(stage, 'Ben')).bid(number, '90')).rejects.toThrow('has closed')
    expect(await frame(number)).toMatchObject({ state: 'sold', endedAt: closesAt, bids: 1 })
  })

  it('does nothing a millisecond before it', async () => {
    const { number, closesAt } = await makeOpenLot(stage)
    stage.clock.set(closesAt - 1)
    await stage.command(() => {})
    expect((await frame(number))?.state).toBe('open')
  })

  it('asks in vain that a bid be taken back', async () => {
    const { number, ada } = await makeDueLot()
    const asked = ada.caller.bidding.askRetraction({ lot: number, reason: 'I meant another lot.' })
    await expect(asked).rejects.toThrow('This lot has ended')
  })

  it('asks in vain to be reminded of it', async () => {
    const { number, ada } = await makeDueLot()
    await expect(ada.caller.bidding.remind({ lot: number, wanted: true })).rejects.toThrow('no closing to come')
  })

  it('asks for a void of bids on a lot that is closed already', async () => {
    const { number, closesAt } = await makeDueLot()
    const alias = (await frame(number))?.leaderAlias ?? ''
    await (await stage.as('host')).bidding.askVoid({ lot: number, alias, reason: 'A slip.' }).catch(() => {})
    expect(await frame(number)).toMatchObject({ state: 'sold', endedAt: closesAt })
  })

  it('bars nobody from a bid that an either-or had placed at the close: the bid was first', async () => {
    const first = await makeOpenLot(stage, { closesIn: 20 * MINUTE })
    const second = await makeOpenLot(stage, { tag: 'TERN-04', closesIn: 60 * MINUTE })
    const [ada, ben] = [await makeBidder(stage, 'Ada'), await makeBidder(stage, 'Ben')]
    const links = [first, second].map(({ number }) => ({ lot: number, maximum: '80' }))
    await ada.caller.eitherOr.make({ key: 'the-one-or-the-other', mostWins: 1, cap: '', links })
    await ben.bid(first.number, '120')
    stage.clock.set(first.closesAt + 3 * SECOND)
    await ada.caller.bidding.disclose({ lot: second.number, kind: 'household', words: 'We share a house with the maker.' })
    const bids = (await leaves(second.number)).filter(({ kind }) => kind === 'bid')
    expect(bids.map(({ at }) => Date.parse(at))).toEqual([first.closesAt])
    expect((await ada.caller.eitherOr.mine())[0]?.links).toMatchObject([{ phase: 'lost' }, { phase: 'awake' }])
  })
})
