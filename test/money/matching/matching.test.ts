import { afterEach, describe, expect, it } from 'vitest'
import { refusedAt } from '#test/make/refusal'
import { formKey, makeSoldLot } from '#test/make/sold'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

const sold = () => {
  stage = openStage()
  return makeSoldLot(stage)
}
const on = ''
const reference = ''

describe('matched giving', () => {
  const promise = { from: 'Tideway Club', base: 'lots and gifts' as const, ratioPercent: '100', cap: '40' }

  it('counts as the money that earns it does, up to its cap, and as paid when the matcher sent it', async () => {
    const { treasurer, number, books } = await sold()
    await treasurer.booking.give({ key: formKey(), from: 'A friend', amount: '15', reference, on })
    const { promiseId } = await treasurer.matching.promise({ ...promise, key: formKey() })
    expect(await books()).toMatchObject({
      meter: { wonMinor: 4_500 + 4_000, paidMinor: 1_500, matchedMinor: 4_000, countedMinor: 10_000 },
      promises: [{ wonMinor: 4_000, dueMinor: 1_500, receivedMinor: 0, isCapped: true }],
    })
    await treasurer.booking.pay({ key: formKey(), lot: number, amount: '62', reference, on })
    expect((await books()).promises[0]?.dueMinor).toBe(4_000)
    const receive = (amount: string) => treasurer.matching.receive({ key: formKey(), promiseId, amount, reference, on })
    expect((await refusedAt(receive('40.01'))).amount).toContain('Only £40.00')
    await receive('40')
    expect(await books()).toMatchObject({
      meter: { wonMinor: 0, paidMinor: 10_000, matchedMinor: 4_000, countedMinor: 10_000 },
      statement: { toRemitMinor: 10_000, matchedMinor: 4_000, matchedDueMinor: 0, varianceMinor: 0 },
    })
    await treasurer.booking.remit({ key: formKey(), amount: '100', reference, on })
    expect((await books()).meter).toMatchObject({ paidMinor: 0, remittedMinor: 10_000, countedMinor: 10_000 })
  })

  it('of a promise that ended no more becomes due, what came stays', async () => {
    const { treasurer, books } = await sold()
    const { promiseId } = await treasurer.matching.promise({ ...promise, key: formKey(), base: 'lots', ratioPercent: '50' })
    expect((await books()).promises[0]).toMatchObject({ wonMinor: 2_250, dueMinor: 0 })
    await treasurer.matching.receive({ key: formKey(), promiseId, amount: '10', reference, on })
    await treasurer.matching.end({ promiseId, why: 'The club asked for it.' })
    expect(await books()).toMatchObject({ promises: [{ wonMinor: 0, receivedMinor: 1_000 }], meter: { matchedMinor: 1_000 } })
    expect((await refusedAt(treasurer.matching.end({ promiseId, why: 'Once more.' }))).promiseId).toContain('already been ended')
  })

  it.each(['', '0', '-5', 'half', '10001', '1.234'])('a rule of "%s" to each hundred is refused at its field', async (ratioPercent) => {
    const { treasurer } = await sold()
    const words = await refusedAt(treasurer.matching.promise({ ...promise, key: formKey(), ratioPercent }))
    expect(Object.keys(words)).toEqual(['ratioPercent'])
  })
})
