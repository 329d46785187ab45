import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { fitting } from '#db/schema/index'
import { giftsBehindBatches } from '#stock/shelf/behind.service'
import { inHand } from '#stock/shelf/stock.service'
import { makeDonor, makePart, makeUnits } from '#test/make/shelf'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

const staff = () => stage.as('volunteer')

/** A batch of `quantity` from a donor, with its part. */
async function givenBatch(quantity: number, change: Parameters<typeof makePart>[1] = {}) {
  const donor = await makeDonor(stage)
  const part = await makePart(stage, change)
  await (await staff()).parcels.log({ key: `parcel-of-${part.id}`, donorId: donor.id, lines: [{ partId: part.id, quantity }] })
  const [batch] = (await (await staff()).buildable.part({ partId: part.id })).batches
  if (!batch) throw new Error('no batch')
  return { donor, part, batch }
}

/** Pieces of a batch put in a unit, straight into the table: how they are fitted is the bench's affair. */
async function fitSome(batchId: string, unitId: string, designators: string[]) {
  const maker = await stage.actor('maker')
  const base = { unitId, batchId, pieceId: null, iron: true, kind: 'first', byPersonId: maker.personId } as const
  const out = { reworkId: null, outAt: null, outByPersonId: null, outReason: null, outReworkId: null }
  await stage.command(({ db, dice, now }) => {
    for (const designator of designators)
      db.insert(fitting)
        .values({ id: dice.id(), designator, at: now, ...base, ...out })
        .run()
  })
}

describe('good pieces in hand', () => {
  test('are what came, less the fitted and the bad', async () => {
    const { part, batch } = await givenBatch(20)
    const [unit] = await makeUnits(stage, ['WREN-01'], { [part.id]: 6 })
    await fitSome(batch.id, unit?.id ?? '', ['U1', 'U2', 'U3', 'U4', 'U5', 'U6'])
    await (await staff()).shelf.markBad({ batchId: batch.id, bad: 2, reason: 'cracked' })
    expect(inHand(stage.sight(), part.id)).toBe(12)
  })

  test('are none of what was promised', async () => {
    const donor = await makeDonor(stage)
    const part = await makePart(stage)
    await (await staff()).gifts.add({ donorId: donor.id, kind: 'parts', partId: part.id, quantity: 50 })
    expect(inHand(stage.sight(), part.id)).toBe(0)
  })

  test('of a programmed part are those that were read and found good', async () => {
    const { part, batch } = await givenBatch(3, { kind: 'chip', name: 'Logic device', programmed: true })
    const [one, two] = batch.loose
    const caller = await staff()
    await caller.shelf.inspect({ pieceId: one?.id ?? '', reader: 'reader 1', verdict: 'good and blank' })
    await caller.shelf.inspect({ pieceId: two?.id ?? '', reader: 'reader 1', verdict: 'dead', symptom: 'no answer on pin 3' })
    expect(inHand(stage.sight(), part.id)).toBe(1)
    const { batches, inspections } = await caller.buildable.part({ partId: part.id })
    expect(batches[0]?.loose.map((piece) => piece.verdict)).toEqual(['good and blank', 'reader uncertain', 'not inspected'])
    expect(inspections).toHaveLength(2)
    await caller.shelf.inspect({ pieceId: two?.id ?? '', reader: 'reader 2', verdict: 'dead', symptom: 'no answer on pin 3' })
    expect((await caller.buildable.part({ partId: part.id })).batches[0]?.loose[1]?.verdict).toBe('dead')
  })

  test('good and programmed wants the image that was read', async () => {
    const { batch } = await givenBatch(1, { kind: 'chip', name: 'Logic device', programmed: true })
    const pieceId = batch.loose[0]?.id ?? ''
    const without = (await staff()).shelf.inspect({ pieceId, reader: 'reader 1', verdict: 'good and programmed' })
    await expect(without).rejects.toThrow('Write the SHA-256')
    const imageSha256 = 'AB'.repeat(32)
    expect(await (await staff()).shelf.inspect({ pieceId, reader: 'reader 1', verdict: 'good and programmed', imageSha256 })).toMatchObject(
      {
        verdict: 'good and programmed',
        imageSha256: imageSha256.toLowerCase(),
      },
    )
  })
})

describe('a miscount is corrected with its history', () => {
  test('in the batch and in the gift that it came by', async () => {
    const { donor, batch } = await givenBatch(20)
    await (await staff()).shelf.recount({ batchId: batch.id, quantity: 19, reason: 'counted twice' })
    const { gifts, changes } = await (await staff()).outcome.donorPage({ donorId: donor.id })
    expect(gifts[0]?.quantity).toBe(19)
    expect(changes.at(-1)).toMatchObject({ what: 'quantity', was: '20', now: '19', reason: 'counted twice' })
    expect(stage.facts().map((fact) => fact.kind)).toContain('batch.recounted')
  })

  test('never below what is fitted', async () => {
    const { part, batch } = await givenBatch(6)
    const [unit] = await makeUnits(stage, ['WREN-01'], { [part.id]: 6 })
    await fitSome(batch.id, unit?.id ?? '', ['U1', 'U2', 'U3'])
    const caller = await staff()
    await expect(caller.shelf.recount({ batchId: batch.id, quantity: 2, reason: 'x' })).rejects.toThrow('there are at least 3')
    expect(await caller.shelf.recount({ batchId: batch.id, quantity: 3, reason: 'x' })).toMatchObject({ quantity: 3, inHand: 0 })
  })

  test('the tags of pieces that were never there are taken back, but none that was inspected', async () => {
    const { part, batch } = await givenBatch(3, { kind: 'board', name: 'Main board' })
    const caller = await staff()
    await caller.shelf.inspect({ pieceId: batch.loose[0]?.id ?? '', reader: 'by eye', verdict: 'good' })
    expect(await caller.shelf.recount({ batchId: batch.id, quantity: 1, reason: 'one bag was empty' })).toMatchObject({
      quantity: 1,
      inHand: 1,
    })
    await expect(caller.shelf.recount({ batchId: batch.id, quantity: 0, reason: 'x' })).rejects.toThrow('already been inspected or fitted')
    await caller.shelf.recount({ batchId: batch.id, quantity: 4, reason: 'found them' })
    expect((await caller.buildable.part({ partId: part.id })).batches[0]?.loose).toHaveLength(4)
  })

  test('without a reason it is refused', async () => {
    const { batch } = await givenBatch(6)
    await expect((await staff()).shelf.recount({ batchId: batch.id, quantity: 5, reason: ' ' })).rejects.toThrow('Say why')
  })

  test('no more can be bad than are in hand', async () => {
    const { batch } = await givenBatch(6)
    const caller = await staff()
    await expect(caller.shelf.markBad({ batchId: batch.id, bad: 7, reason: 'x' })).rejects.toThrow('at most 6 in hand can be bad')
    expect(await caller.shelf.markBad({ batchId: batch.id, bad: 6, reason: 'x' })).toMatchObject({ inHand: 0 })
    expect(await caller.shelf.markBad({ batchId: batch.id, bad: 0, reason: 'the meter was wrong' })).toMatchObject({ inHand: 6 })
  })
})

describe('credits walk back from a batch to its giver', () => {
  test('a given batch has one, a bought one has none', async () => {
    const { donor, part, batch } = await givenBatch(6)
    const bought = await (await staff()).shelf.buy({ partId: part.id, boughtFrom: 'Corner Electronics', quantity: 5 })
    expect(bought.code).toBe('B-0002')
    expect(giftsBehindBatches(stage.sight(), [batch.id, bought.id])).toMatchObject([
      { batchId: batch.id, donor: { donorId: donor.id, creditName: 'Ines Abreu' } },
    ])
  })
})

test('a batch shows what was changed in it, and why', async () => {
  const { part, batch } = await givenBatch(6)
  await (await staff()).shelf.recount({ batchId: batch.id, quantity: 5, reason: 'one was a fuse' })
  expect((await (await staff()).buildable.part({ partId: part.id })).changes).toMatchObject([
    { what: 'quantity', was: '6', now: '5', reason: 'one was a fuse' },
  ])
})
