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
})
