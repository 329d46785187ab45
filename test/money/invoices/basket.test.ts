import { afterEach, expect, test } from 'vitest'
import { closeDueLots } from '#sale/closings/close-due.service'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { formKey } from '#test/make/sold'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

test('lots that one buyer won are one basket with one total, until each is paid; nobody else sees any of it', async () => {
  stage = openStage()
  const lots = [await makeOpenLot(stage), await makeOpenLot(stage, { tag: 'TERN-04' })]
  const [ada, ben] = [await makeBidder(stage, 'Ada'), await makeBidder(stage, 'Ben')]
  for (const { number } of lots) await ada.bid(number, '60')
  await ben.bid(2, '40')
  stage.clock.set(Math.max(...lots.map(({ closesAt }) => closesAt)) + 600_000)
  await stage.command(closeDueLots)
  const basket = await ada.caller.invoices.basket()
  const owed = await Promise.all(lots.map(async ({ number }) => (await ada.caller.invoices.page({ lot: number })).owedMinor))
  expect(basket.lots.map(({ lot, owedMinor }) => [lot, owedMinor])).toEqual(lots.map(({ number }, at) => [number, owed[at]]))
  expect(basket.totalMinor).toBe((owed[0] ?? 0) + (owed[1] ?? 0))
  expect(new Set(basket.lots.map(({ reference }) => reference)).size).toBe(2)
  expect((await ben.caller.invoices.basket()).lots).toEqual([])
  const amount = ((owed[0] ?? 0) / 100).toFixed(2)
  await (await stage.as('treasurer')).booking.pay({ key: formKey(), lot: 1, amount, reference: '', on: '' })
  expect(await ada.caller.invoices.basket()).toMatchObject({ lots: [{ lot: 2 }], totalMinor: owed[1] })
})
