import { afterEach, expect, it } from 'vitest'
import { photograph } from '#db/schema/index'
import { ALL_GOES } from '#end/deletion/contact-data.rules'
import { photographsGoing } from '#end/deletion/contact-data.store'
import { bringUpUnit, makeBench } from '#test/make/bench'
import { refusedAt } from '#test/make/refusal'
import { makeDonor, makePart } from '#test/make/shelf'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage?.close())

const SHA = 'b'.repeat(64)

async function withBoard() {
  stage = openStage()
  const { designId } = await makeBench(stage)
  await stage.command(({ db, now }) => db.insert(photograph).values({ sha: SHA, width: 1600, height: 1200, at: now }).run())
  const volunteer = await stage.as('volunteer')
  await volunteer.faults.addBoard({ designId, photograph: SHA, words: 'the top' })
  return { designId, volunteer, at: { designId, photograph: SHA } }
}

it('shows on the page of a fault what is pinned on a photograph of the board, and nothing before', async () => {
  const { volunteer, at } = await withBoard()
  await bringUpUnit(stage, 'TERN-01', undefined, { B21: '12.5' })
  const shown = async () => (await volunteer.faults.search({ tag: 'TERN-01' })).photographs
  expect(await shown()).toEqual([])
  await volunteer.faults.pin({ ...at, mark: 'Q1', x: 250, y: 750 })
  await volunteer.faults.pin({ ...at, mark: 'Q1', x: 260, y: 740 })
  expect(await shown()).toEqual([{ sha: SHA, words: 'the top', width: 1600, height: 1200, pins: [{ mark: 'Q1', x: 260, y: 740 }] }])
  await volunteer.faults.unpin({ ...at, mark: 'Q1' })
  expect(await shown()).toEqual([])
})

it('pins a test point that was written down at the bench, and nothing that the design does not know', async () => {
  const { volunteer, at, designId } = await withBoard()
  expect(await refusedAt(volunteer.faults.pin({ ...at, mark: 'U2 pin 8', x: 1, y: 1 }))).toHaveProperty('mark')
  await volunteer.faults.setPoint({ tag: 'TERN-01', point: 'U2 pin 8', block: 'front end', expects: '4.0 V' })
  await volunteer.faults.pin({ ...at, mark: 'U2 pin 8', x: 0, y: 1000 })
  const { marks, photographs } = await volunteer.faults.board({ designId })
  expect(marks.slice(0, 20)).toContain('U2 pin 8')
  expect(photographs[0]?.pins).toEqual([{ mark: 'U2 pin 8', x: 0, y: 1000 }])
})

it('refuses what lies beside the picture, a picture that was never sent, and the same one twice', async () => {
  const { volunteer, at, designId } = await withBoard()
  await expect(volunteer.faults.pin({ ...at, mark: 'Q1', x: 1001, y: 0 })).rejects.toThrow()
  expect(await refusedAt(volunteer.faults.addBoard({ designId, photograph: 'c'.repeat(64) }))).toHaveProperty('photograph')
  expect(await refusedAt(volunteer.faults.addBoard({ designId, photograph: SHA }))).toHaveProperty('photograph')
})

it('takes its pins along when it is removed, and is spared while it is there when contact data are deleted', async () => {
  const { volunteer, at, designId } = await withBoard()
  await volunteer.faults.pin({ ...at, mark: 'Q1', x: 5, y: 5 })
  const [donor, part] = [await makeDonor(stage), await makePart(stage)]
  await volunteer.parcels.log({ key: 'a-parcel-key', donorId: donor.id, photoSha: SHA, lines: [{ partId: part.id, quantity: 1 }] })
  expect(photographsGoing(stage.db, ALL_GOES)).toEqual([])
  await volunteer.faults.removeBoard(at)
  expect(photographsGoing(stage.db, ALL_GOES)).toEqual([SHA])
  expect((await volunteer.faults.board({ designId })).photographs).toEqual([])
})
