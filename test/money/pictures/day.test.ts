import { afterEach, expect, it } from 'vitest'
import { DAY, HOUR, MINUTE } from '#kernel/instant'
import { closeDueLots } from '#sale/closings/close-due.service'
import { planClosing } from '#sale/closings/closings.service'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { formKey } from '#test/make/sold'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

it('the line of the day runs to the last closing, where that is after the end of the stream', async () => {
  stage = openStage()
  const { closesAt, number } = await makeOpenLot(stage, { closesIn: 9 * HOUR })
  const ada = await makeBidder(stage, 'Ada')
  await ada.bid(number, '60')
  expect(await stage.visitor().pictures.day()).toMatchObject({ toAt: closesAt })
  stage.clock.set(closesAt + MINUTE)
  await stage.command(closeDueLots)
  const treasurer = await stage.as('treasurer')
  await treasurer.booking.pay({ key: formKey(), lot: number, amount: '10', reference: '', on: '' })
  const day = await stage.visitor().pictures.day()
  expect(day?.toAt).toBe(closesAt)
  expect(day?.closes.map(({ lot, at }) => [lot, at])).toEqual([[number, closesAt]])
  expect(day?.points.at(-1)).toMatchObject({ at: closesAt, wonMinor: 2_000, paidMinor: 0 })
})

it('a closing of another day does not stretch it', async () => {
  stage = openStage()
  const { number } = await makeOpenLot(stage)
  const before = await stage.visitor().pictures.day()
  await stage.command((turn) => planClosing(turn, number, turn.now + 30 * DAY))
  expect((await stage.visitor().pictures.day())?.toAt).toBe(before?.toAt)
})
