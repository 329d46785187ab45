import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { countedThing, countSaid } from '#stock/donors/count-words.rules'
import { makeDonor, makePart } from '#test/make/shelf'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

test.each([
  ['30', '30', 'counted', '30 × nuts'],
  ['ca. 30', '30', 'about', 'about 30 × nuts'],
  ['~30', '30', 'about', 'about 30 × nuts'],
  ['30 or so', '30', 'about', 'about 30 × nuts'],
  ['?', '0', 'not yet', 'nuts, not counted yet'],
  ['a bag', '0', 'not yet', 'nuts, not counted yet'],
] as const)('%s', (typed, quantity, howCounted, words) => {
  expect(countSaid(typed)).toEqual({ quantity, howCounted })
  expect(countedThing({ quantity: Number(quantity), howCounted }, 'nuts')).toBe(words)
})

const newPart = { kind: 'capacitor' as const, name: 'capacitor', value: '0,1uF', package: 'radial' }

async function logged(line: object) {
  const donor = await makeDonor(stage)
  const volunteer = await stage.as('volunteer')
  const kept = await volunteer.parcels.log({ key: 'a-parcel-key', donorId: donor.id, lines: [line as { words: string }] })
  const [parcel] = await volunteer.parcels.list()
  return { volunteer, kept, line: parcel?.lines[0], donor }
}

describe('a parcel line becomes stock', () => {
  test('a part that is new to the catalogue is added by it, once', async () => {
    const { kept, volunteer, donor } = await logged({ newPart, words: '0,1uF', quantity: 20 })
    expect(kept.lines).toMatchObject([{ what: '100 nF capacitor, radial', quantity: 20, batchCode: 'B-0001' }])
    const again = { key: 'another-key', donorId: donor.id, lines: [{ newPart: { ...newPart, value: '104' }, quantity: 5 }] }
    await volunteer.parcels.log(again)
    expect(await volunteer.parts.list()).toHaveLength(1)
  })

  test('about thirty are stock, and said to be about thirty until they are counted', async () => {
    const { volunteer, line } = await logged({ newPart, quantity: 30, howCounted: 'about' })
    expect(line).toMatchObject({ quantity: 30, howCounted: 'about', state: 'counted' })
    const part = await volunteer.buildable.part({ partId: line?.partId ?? '' })
    const [batch] = part.batches
    expect(batch).toMatchObject({ inHand: 30, howCounted: 'about' })
    await volunteer.shelf.recount({ batchId: batch?.id ?? '', quantity: 30, reason: 'counted' })
    const [after] = (await volunteer.buildable.part({ partId: line?.partId ?? '' })).batches
    expect(after).toMatchObject({ inHand: 30, howCounted: 'counted' })
  })

  test('what is not counted yet is here and no stock, until it is counted', async () => {
    const { volunteer, line } = await logged({ newPart, howCounted: 'not yet' })
    expect(line).toMatchObject({ howCounted: 'not yet', state: 'arrived' })
    const [batch] = (await volunteer.buildable.part({ partId: line?.partId ?? '' })).batches
    expect(batch).toMatchObject({ inHand: 0, quantity: 0 })
    await volunteer.shelf.recount({ batchId: batch?.id ?? '', quantity: 120, reason: 'counted' })
    const [parcel] = await volunteer.parcels.list()
    expect(parcel?.lines[0]).toMatchObject({ quantity: 120, howCounted: 'counted', state: 'counted' })
  })

  test('none, where it was counted, is refused at its line', async () => {
    await expect(logged({ newPart, quantity: 0 })).rejects.toThrow('Write how many')
  })
})

describe('a gift in words becomes stock when somebody says what it is', () => {
  test('it lies on the shelf as a batch, and its words stay', async () => {
    const { volunteer, line } = await logged({ words: '40x 104 caps', quantity: 40 })
    expect(line).toMatchObject({ partId: null, batchCode: null })
    const named = await volunteer.parcels.name({ giftId: line?.id ?? '', newPart })
    expect(named.batchCode).toBe('B-0001')
    const [parcel] = await volunteer.parcels.list()
    expect(parcel?.lines[0]).toMatchObject({ what: '100 nF capacitor, radial', words: '40x 104 caps', kind: 'parts', batchCode: 'B-0001' })
    await expect(volunteer.parcels.name({ giftId: line?.id ?? '', newPart })).rejects.toThrow('It is 100 nF capacitor, radial already.')
  })

  test('a promise in words becomes one of that part, and no stock yet', async () => {
    const donor = await makeDonor(stage)
    const part = await makePart(stage)
    const maker = await stage.as('maker')
    const gift = await maker.gifts.add({ donorId: donor.id, kind: 'extras', words: 'six displays', quantity: 6 })
    expect(await maker.parcels.name({ giftId: gift.id, partId: part.id })).toEqual({ partId: part.id, batchCode: null })
  })

  test('neither nothing nor two things at once, nor an hour of help', async () => {
    const { volunteer, line, donor } = await logged({ words: 'knobs', quantity: 4 })
    await expect(volunteer.parcels.name({ giftId: line?.id ?? '' })).rejects.toThrow('Choose the part')
    const maker = await stage.as('maker')
    const help = await maker.gifts.add({ donorId: donor.id, kind: 'labour', words: 'soldering', minutes: 90 })
    await expect(volunteer.parcels.name({ giftId: help.id, newPart })).rejects.toThrow('not something that could lie on the shelf')
  })
})
