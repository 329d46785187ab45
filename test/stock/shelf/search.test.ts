import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { pieceTag } from '#stock/shelf/piece.rules'
import { nearTags } from '#stock/shelf/tag.rules'
import { makeDonor, makePart } from '#test/make/shelf'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

async function shelf() {
  const volunteer = await stage.as('volunteer')
  const donor = await makeDonor(stage)
  const cap = await makePart(stage, { kind: 'capacitor', name: 'capacitor', value: '100n', package: 'radial' })
  const resistor = await makePart(stage, { kind: 'resistor', name: 'resistor', value: '100R' })
  const chip = await makePart(stage, { kind: 'chip', name: 'Logic device PLD-22', programmed: true })
  await volunteer.parcels.log({ key: 'one-parcel-key', donorId: donor.id, lines: [{ partId: cap.id, quantity: 50, marking: 'SN74K104X' }] })
  await volunteer.shelf.buy({ partId: resistor.id, boughtFrom: 'Corner Electronics', quantity: 20, dateCode: '8824' })
  await volunteer.shelf.buy({ partId: chip.id, boughtFrom: 'Corner Electronics', quantity: 2 })
  const find = async (words: string) => (await volunteer.shelf.search({ words })).batches.map(({ code }) => code)
  return { volunteer, donor, cap, find }
}

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
    expect(await (await shelf()).find(words)).toEqual(codes)
  })

  test('a hundred ohms are not a hundred nanofarads, but "100" alone finds both', async () => {
    const { find } = await shelf()
    expect(await find('100R')).toEqual(['B-0002'])
    expect(await find('100n')).toEqual(['B-0001'])
    expect(await find('100')).toEqual(['B-0002', 'B-0001'])
  })

  test('by the new name of its giver, once that was changed', async () => {
    const { find, donor } = await shelf()
    stage.db.run(`UPDATE donor SET name = 'Ines Abreu-Lindqvist' WHERE id = '${donor.id}'`)
    expect(await find('lindqvist')).toEqual(['B-0001'])
  })
})

describe('a tag that is scanned or typed leads to its page', () => {
  test('a piece, a bag and the address on a label', async () => {
    const { volunteer, cap } = await shelf()
    const tag = pieceTag(1)
    expect((await volunteer.tags.find({ code: tag.toLowerCase().replaceAll('-', ' ') })).href).toBe(
      `/bench/pieces/${encodeURIComponent(tag)}`,
    )
    expect((await volunteer.tags.find({ code: `https://bench.example/bench/pieces/${tag}` })).tag).toBe(tag)
    expect((await volunteer.tags.find({ code: 'B-0001' })).href).toBe(`/bench/parts/${cap.id}#B-0001`)
  })

  test('a slip is told by the check character, with the tag that was meant', async () => {
    const { volunteer } = await shelf()
    const slip = pieceTag(1).replace('0001', '0010')
    await expect(volunteer.tags.find({ code: slip })).rejects.toThrow(`One slip away: ${pieceTag(1)}`)
    expect(nearTags(slip)).toContain(pieceTag(1))
    await expect(volunteer.tags.find({ code: pieceTag(77) })).rejects.toThrow(`There is no piece ${pieceTag(77)}`)
    await expect(volunteer.tags.find({ code: 'B-0001-X' })).rejects.toThrow('the last character does not fit')
    await expect(volunteer.tags.find({ code: '%E0%A4%A' })).rejects.toThrow('is not a tag')
  })
})

describe('sampling', () => {
  test('the plan is fixed first, what is bad leaves the shelf, and too many bad ones reject the batch', async () => {
    const { volunteer, cap } = await shelf()
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
    const { volunteer } = await shelf()
    const [batch] = (await volunteer.shelf.search({ words: 'PLD-22' })).batches
    await expect(volunteer.shelf.fixSampling({ batchId: batch?.id ?? '', level: 'II', aql: '2.5' })).rejects.toThrow('each is inspected')
    await expect(volunteer.shelf.testBatch({ batchId: batch?.id ?? '', tested: 1, bad: 0, reader: 'eye' })).rejects.toThrow(
      'inspect each piece by its tag',
    )
  })
})
