import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { fitting } from '#db/schema/index'
import { makeDonor, makePart, makeUnits } from '#test/make/shelf'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

/** Twelve displays of one donor, six of them in WREN-05, none in WREN-06. */
async function suspectBatch() {
  const donor = await makeDonor(stage)
  const part = await makePart(stage)
  const volunteer = await stage.as('volunteer')
  await volunteer.parcels.log({ key: 'a-parcel-key', donorId: donor.id, lines: [{ partId: part.id, quantity: 12 }] })
  const [batch] = (await volunteer.buildable.part({ partId: part.id })).batches
  const units = await makeUnits(stage, ['WREN-05', 'WREN-06'], { [part.id]: 6 })
  const maker = await stage.actor('maker')
  await stage.command(({ db, dice, now }) => {
    for (const designator of ['U1', 'U2', 'U3', 'U4', 'U5', 'U6']) {
      const where = { unitId: units[0]?.id ?? '', batchId: batch?.id ?? '', pieceId: null, designator }
      const out = { reworkId: null, outAt: null, outByPersonId: null, outReason: null, outReworkId: null }
      db.insert(fitting)
        .values({ id: dice.id(), iron: true, kind: 'first', at: now, byPersonId: maker.personId, ...where, ...out })
        .run()
    }
  })
  return { donor, part, batchId: batch?.id ?? '' }
}

const reason = 'markings rub off with acetone'
const setAside = () => stage.db.all<{ tag: string; words: string | null }>('SELECT tag, set_aside_reason AS words FROM unit ORDER BY tag')

describe('a suspect batch is quarantined in one action', () => {
  test('it says beforehand what it touches', async () => {
    const { batchId } = await suspectBatch()
    expect(await (await stage.as('maker')).quarantine.touches({ batchId })).toEqual([
      expect.objectContaining({ tag: 'WREN-05', pieces: 6, certificate: null, lot: null, buyer: null }),
    ])
  })

  test('nothing of it is in hand any more, and the unit that holds it is set aside, no other', async () => {
    const { batchId, part } = await suspectBatch()
    await (await stage.as('maker')).quarantine.batch({ batchId, reason })
    const { batches } = await (await stage.as('maker')).buildable.part({ partId: part.id })
    expect(batches).toMatchObject([{ state: 'quarantined', reason, inHand: 0 }])
    expect(setAside()).toEqual([
      { tag: 'WREN-05', words: `Parts of batch B-0001 are suspect: ${reason}` },
      { tag: 'WREN-06', words: null },
    ])
    expect(stage.facts().map((fact) => fact.kind)).toEqual(expect.arrayContaining(['batch.quarantined', 'unit.set-aside']))
  })

  test('its gift is quarantined too, and suspect pieces are never given back', async () => {
    const { batchId, donor } = await suspectBatch()
    await (await stage.as('maker')).quarantine.batch({ batchId, reason })
    const [gift] = (await (await stage.as('maker')).outcome.donorPage({ donorId: donor.id })).gifts
    expect(gift?.state).toBe('quarantined')
    const back = (await stage.as('maker')).gifts.move({ giftId: gift?.id ?? '', to: 'returned', reason: 'sorry' })
    await expect(back).rejects.toThrow('From "quarantined" it can go to inspected or destroyed')
  })

  test('a second time it is refused, and so is one without a reason', async () => {
    const { batchId } = await suspectBatch()
    const maker = await stage.as('maker')
    await expect(maker.quarantine.batch({ batchId, reason: '  ' })).rejects.toThrow('Say what is suspected')
    await maker.quarantine.batch({ batchId, reason })
    await expect(maker.quarantine.batch({ batchId, reason })).rejects.toThrow('already in quarantine')
  })

  test('when it proves unfounded the rest may be fitted again, and the unit waits to be taken up', async () => {
    const { batchId, part } = await suspectBatch()
    const maker = await stage.as('maker')
    await maker.quarantine.batch({ batchId, reason })
    await maker.quarantine.clear({ batchId, reason: 'ten tested, all good' })
    expect((await maker.buildable.part({ partId: part.id })).batches).toMatchObject([{ state: 'available', reason: null, inHand: 6 }])
    expect(setAside()[0]?.words).not.toBeNull()
  })

  test('the volunteer sees what it touches and leaves the doing to the maker', async () => {
    const { batchId } = await suspectBatch()
    await expect((await stage.as('volunteer')).quarantine.touches({ batchId })).resolves.toHaveLength(1)
    await expect((await stage.as('volunteer')).quarantine.batch({ batchId, reason })).rejects.toThrow('This is done by the maker')
  })

  test('its giver is to be told, kindly and by a letter that can be changed; once told they are told once', async () => {
    const { batchId } = await suspectBatch()
    const maker = await stage.as('maker')
    await maker.quarantine.batch({ batchId, reason })
    const [notice] = await maker.quarantine.notices()
    expect(notice).toMatchObject({ who: 'donor', name: 'Ines Abreu', mail: 'ines@abreu.example', toldAt: null, about: 'quarantined' })
    expect(notice?.draft.body).toContain('You could not have known this')
    expect(stage.letters()).toEqual([])
    const told = { noticeId: notice?.id ?? '', how: 'letter', subject: 'About your parts', body: 'Dear Ines, …' } as const
    await maker.quarantine.tell(told)
    await maker.quarantine.tell(told)
    expect(stage.letters()).toMatchObject([{ recipient: 'ines@abreu.example', subject: 'About your parts', body: 'Dear Ines, …' }])
    expect(await maker.quarantine.notices()).toMatchObject([{ toldHow: 'letter', toldAt: stage.clock.now() }])
  })

  test('a letter without words is refused at its field', async () => {
    const { batchId } = await suspectBatch()
    const maker = await stage.as('maker')
    await maker.quarantine.batch({ batchId, reason })
    const [notice] = await maker.quarantine.notices()
    const empty = maker.quarantine.tell({ noticeId: notice?.id ?? '', how: 'letter', subject: 'About your parts', body: ' ' })
    await expect(empty).rejects.toThrow('Write the letter.')
  })

  test('when it is lifted, those who were told are told that too, and nobody else', async () => {
    const { batchId } = await suspectBatch()
    const maker = await stage.as('maker')
    await maker.quarantine.batch({ batchId, reason })
    await maker.quarantine.clear({ batchId, reason: 'ten tested, all good' })
    expect(await maker.quarantine.notices()).toEqual([])
    stage.clock.pass(1000)
    await maker.quarantine.batch({ batchId, reason })
    const [notice] = await maker.quarantine.notices()
    await maker.quarantine.tell({ noticeId: notice?.id ?? '', how: 'by hand' })
    stage.clock.pass(1000)
    await maker.quarantine.clear({ batchId, reason: 'ten tested, all good' })
    const after = await maker.quarantine.notices()
    expect(after.map(({ about, toldAt }) => [about, toldAt === null])).toEqual([
      ['quarantined', false],
      ['lifted', true],
    ])
    expect(after[1]?.draft.body).toContain('ten tested, all good')
  })

  test('nothing of it and of its giver is on a public page', async () => {
    const { batchId } = await suspectBatch()
    const maker = await stage.as('maker')
    await maker.quarantine.batch({ batchId, reason })
    const visitor = stage.visitor()
    expect(JSON.stringify([await visitor.credits.all(), await visitor.buildable.wanted()])).not.toContain('acetone')
    await expect(visitor.quarantine.notices()).rejects.toThrow('Sign in first')
  })
})
