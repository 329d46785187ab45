import { afterEach, expect, it } from 'vitest'
import { MINUTE } from '#kernel/instant'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { formKey, makeSoldLot } from '#test/make/sold'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

it('the meter can be followed to its lots, gifts and promises, and what is matched and not sent is told apart', async () => {
  stage = openStage()
  await makeOpenLot(stage, { tag: 'TERN-09', closesIn: 600 * MINUTE })
  const { treasurer, number } = await makeSoldLot(stage)
  const cy = await makeBidder(stage, 'Cy')
  await cy.bid(1, '33')
  await treasurer.booking.pay({ key: formKey(), lot: number, amount: '40', reference: '', on: '' })
  await treasurer.booking.give({ key: formKey(), from: 'A friend', amount: '10', reference: '', on: '' })
  const { promiseId } = await treasurer.matching.promise({
    key: formKey(),
    from: 'The quay',
    base: 'lots and gifts',
    ratioPercent: '50',
    cap: '500',
  })
  await treasurer.matching.receive({ key: formKey(), promiseId, amount: '7', reference: '', on: '' })
  await treasurer.booking.remit({ key: formKey(), amount: '30', reference: '', on: '' })
  const [meter, states, parts] = [
    await stage.visitor().proceeds.meter(),
    await treasurer.proceeds.states(),
    await stage.visitor().proceeds.parts(),
  ]
  expect(states.map(({ of, lot }) => [of, lot])).toEqual([
    ['lot', 1],
    ['lot', number],
    ['gifts', null],
    ['matched', null],
  ])
  for (const key of ['bidMinor', 'wonMinor', 'paidMinor', 'remittedMinor'] as const)
    expect(states.reduce((sum, one) => sum + one[key], 0)).toBe(meter?.[key])
  expect(parts.reduce((sum, { raisedMinor, bidMinor }) => sum + raisedMinor + bidMinor, 0)).toBe(meter?.countedMinor)
  // 50 % of 45.00 won, 10.00 given and 18.00 bid: 700 of it was sent.
  expect(meter).toMatchObject({ matchedReceivedMinor: 700 })
  expect(states.at(-1)).toMatchObject({ bidMinor: 1_000, wonMinor: 2_750 - 700 })
})
