import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { makeThreeBatches } from '#test/make/shelf'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

describe('sampling', () => {
  test('the plan is fixed first, what is bad leaves the shelf, and too many bad ones reject the batch', async () => {
    const { volunteer, cap } = await makeThreeBatches(stage)
    const batchId = (await volunteer.buildable.part({ partId: cap.id })).batches[0]?.id ?? ''
    expect(await volunteer.shelf.fixSampling({ batchId, level: 'II', aql: '2.5' })).toMatchObject({
      plan: { sample: 5, accept: 0, verdict: 'going on' },
    })
    await expect(volunteer.shelf.fixSampling({ batchId, level: 'II', aql: '10' })).rejects.toThrow('The plan for B-0001 is fixed')
    await volunteer.shelf.testBatch({ batchId, tested: 3, bad: 0, reader: 'Bridge no. 1' })
    await expect(volunteer.shelf.testBatch({ batchId, tested: 2, bad: 3, reader: 'Bridge no. 1' })).rejects.toThrow('at most 2 can be bad')
    await expect(volunteer.shelf.testBatch({ batchId, tested: 2, bad: 1, reader: 'Bridge no. 1' })).rejects.toThrow('Say what was seen')
    await expect(volunteer.shelf.testBatch({ batchId, tested: 48, bad: 0, reader: 'Bridge no. 1' })).rejects.toThrow('Only 47 of B-0001')
    const card = await volunteer.shelf.testBatch({ batchId, tested: 1, bad: 1, reader: 'Bridge no. 1', symptom: 'leaks' })
    expect(card).toMatchObject({ tested: 4, bad: 1, untested: 46, plan: { verdict: 'rejected' } })
    expect((await volunteer.buildable.part({ partId: cap.id })).batches[0]).toMatchObject({ bad: 1, inHand: 49 })
  })

  test('a programmed part is read piece by piece', async () => {
    const { volunteer } = await makeThreeBatches(stage)
    const [batch] = (await volunteer.shelf.search({ words: 'PLD-22' })).batches
    await expect(volunteer.shelf.fixSampling({ batchId: batch?.id ?? '', level: 'II', aql: '2.5' })).rejects.toThrow('each is inspected')
    await expect(volunteer.shelf.testBatch({ batchId: batch?.id ?? '', tested: 1, bad: 0, reader: 'eye' })).rejects.toThrow(
      'inspect each piece by its tag',
    )
  })

  test('a batch that its own plan rejected goes into no machine until it is sorted or let through by name', async () => {
    const { volunteer, cap } = await makeThreeBatches(stage)
    const maker = await stage.as('maker')
    const first = async () => (await volunteer.buildable.part({ partId: cap.id })).batches[0]
    const batchId = (await first())?.id ?? ''
    const plan = (await volunteer.shelf.fixSampling({ batchId, level: 'II', aql: '2.5' })) as { draw: number[] }
    expect(plan.draw).toHaveLength(5)
    expect(new Set(plan.draw).size).toBe(5)
    expect(plan.draw.every((one) => one >= 1 && one <= 50)).toBe(true)
    const waive = { batchId, name: 'Ada Quill', reason: 'only the lead is bent' }
    await expect(maker.shelf.waive(waive)).rejects.toThrow('is not rejected by its plan')
    await volunteer.shelf.testBatch({ batchId, tested: 1, bad: 1, reader: 'Bridge no. 1', symptom: 'leaks' })
    expect(await first()).toMatchObject({ isBarred: true })
    expect(await maker.shelf.waive(waive)).toMatchObject({ isBarred: false, waived: { name: 'Ada Quill' } })
    expect(await first()).toMatchObject({ isBarred: false })
  })

  test('bad ones found in a machine do not reject a batch: they were not drawn at random', async () => {
    const { volunteer, cap } = await makeThreeBatches(stage)
    const batchId = (await volunteer.buildable.part({ partId: cap.id })).batches[0]?.id ?? ''
    await volunteer.shelf.fixSampling({ batchId, level: 'II', aql: '2.5' })
    await volunteer.shelf.markBad({ batchId, bad: 1, reason: 'taken out of TERN-01 at C3' })
    const page = await volunteer.buildable.part({ partId: cap.id })
    expect(page.sampling[0]).toMatchObject({ bad: 1, beside: { bad: 1, good: 0 }, plan: { verdict: 'going on' } })
  })

  test('what a sample measured is kept with its mean and spread', async () => {
    const { volunteer, cap } = await makeThreeBatches(stage)
    const batchId = (await volunteer.buildable.part({ partId: cap.id })).batches[0]?.id ?? ''
    const measured = { batchId, tested: 3, bad: 0, reader: 'Bridge no. 1', figures: '99,8 100.2, 100', unit: 'nF' }
    await expect(volunteer.shelf.testBatch({ ...measured, figures: '99.8 about' })).rejects.toThrow('"about" is not a figure')
    await expect(volunteer.shelf.testBatch({ ...measured, figures: '1 2 3 4' })).rejects.toThrow('4 figures are written, and 3 were tested')
    const { measured: kept } = await volunteer.shelf.testBatch(measured)
    expect(kept).toMatchObject([{ unit: 'nF', figures: [99.8, 100.2, 100], spread: { mean: 100, count: 3 } }])
    expect(kept[0]?.spread.deviation).toBeCloseTo(0.2, 9)
  })
})
