import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { makeThreeBatches } from '#test/make/shelf'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

const find = async (volunteer: Awaited<ReturnType<Stage['as']>>, words: string) =>
  (await volunteer.shelf.search({ words })).batches.map(({ code }) => code)

describe('a batch is found', () => {
  test.each([
    ['by its part', 'logic device', ['B-0003']],
    ['by its value, however it is written', '0.1uF', ['B-0001']],
    ['by the code on it', '104', ['B-0001']],
    ['by a value with a blank', '100 nF', ['B-0001']],
    ['by a piece of its marking', '74K104', ['B-0001']],
    ['by its date code', '8824', ['B-0002']],
    ['by its giver', 'abreu', ['B-0001']],
    ['by the seller and the kind together', 'corner resistor', ['B-0002']],
    ['by its code', 'b-0002', ['B-0002']],
    ['by the tag of one of its pieces', 'P-0001', ['B-0003']],
    ['not by what is nowhere', 'klystron', []],
    ['all of them by nothing', '', ['B-0003', 'B-0002', 'B-0001']],
    ['not by a formula or a quote', `%' OR 1=1 --`, []],
  ])('%s', async (_how, words, codes) => {
    expect(await find((await makeThreeBatches(stage)).volunteer, words)).toEqual(codes)
  })

  test('a hundred ohms are not a hundred nanofarads, but "100" alone finds both', async () => {
    const { volunteer } = await makeThreeBatches(stage)
    expect(await find(volunteer, '100R')).toEqual(['B-0002'])
    expect(await find(volunteer, '100n')).toEqual(['B-0001'])
    expect(await find(volunteer, '100')).toEqual(['B-0002', 'B-0001'])
  })

  test('by the new name of its giver, once that was changed', async () => {
    const { volunteer, donor } = await makeThreeBatches(stage)
    stage.db.run(`UPDATE donor SET name = 'Ines Abreu-Lindqvist' WHERE id = '${donor.id}'`)
    expect(await find(volunteer, 'lindqvist')).toEqual(['B-0001'])
  })
})
