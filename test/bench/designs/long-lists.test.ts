import { setImmediate as nextTurn } from 'node:timers/promises'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { designIn } from '#bench/designs/design.contract'
import { previewImport } from '#bench/designs/import.service'
import { type ListReader, readOnThisThread } from '#bench/designs/list-reader'
import { run, unit } from '#db/schema/index'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

const ROWS = 120
const lists = (rows: number, first = 100) => ({
  checklist: {
    text: 'step,stage,hold,title,kind,nominal,lower,upper,unit,after,exercises,powered,minutes\nK1,a,n,A,measure,5,4,6,V,,audio,y,1',
  },
  feeds: { text: 'from,to,kind\nsupply,audio,power' },
  partsList: {
    text: ['designators,value,quantity,blocks,after', ...Array.from({ length: rows }, (_, n) => `R${n + 1},${first + n}R,1,audio,`)].join(
      '\n',
    ),
  },
})
const named = { key: 'long-list', name: 'Long List', revision: 'A', decisionRule: 'simple' as const }

/** How often somebody else got a turn of the house's queue while the work went on. */
async function turnsBetween(work: Promise<unknown>): Promise<number> {
  let isOver = false
  const over = work.finally(() => {
    isOver = true
  })
  let turns = 0
  while (!isOver) {
    await stage.command(() => {})
    turns += 1
  }
  await over
  return turns
}

test('rows are read where the house says, and not on its own thread', async () => {
  const asked: unknown[] = []
  const listReader: ListReader = {
    make: (order) => {
      asked.push(order)
      return readOnThisThread.make(order)
    },
    close: () => {},
  }
  const { sheets } = await previewImport({ listReader }, designIn.parse({ ...named, ...lists(3) }))
  expect(sheets[1]?.rows).toHaveLength(3)
  expect(asked).toHaveLength(1)
  // What is sent to a thread has to be plain.
  expect(structuredClone(asked)).toEqual(asked)
})

test('while a long list is stored others get their turn, time and again', async () => {
  const maker = await stage.as('maker')
  expect(await turnsBetween(maker.designs.import({ ...named, ...lists(ROWS) }))).toBeGreaterThan(ROWS / 20)
  const [design] = await maker.designs.list()
  expect(design).toMatchObject({ positions: ROWS })
})

test('of a list that may not be stored no part gets into the catalogue', async () => {
  const maker = await stage.as('maker')
  const { designId } = await maker.designs.import({ ...named, ...lists(3) })
  await stage.command(({ db, now }) => db.insert(run).values({ id: 'a-run', designId, tagPrefix: 'WREN', at: now }).run())
  await expect(maker.designs.import({ ...named, ...lists(3, 500) })).rejects.toThrow('Units are already being built')
  expect((await maker.buildable.parts()).lines).toHaveLength(3)
})

test('of two that store one revision at one time the later one stands, whole', async () => {
  const maker = await stage.as('maker')
  await Promise.all([maker.designs.import({ ...named, ...lists(40) }), maker.designs.import({ ...named, ...lists(30, 500) })])
  const [design] = await maker.designs.list()
  const { lines, positions } = await maker.designs.get({ id: design?.id ?? '' })
  expect([lines.length, positions.length]).toSatisfy(([a, b]) => a === b && (a === 40 || a === 30))
})

test('what can be built of a long list is read piece by piece', async () => {
  const maker = await stage.as('maker')
  const { designId } = await maker.designs.import({ ...named, ...lists(ROWS) })
  await stage.command(({ db, now }) => {
    db.insert(run).values({ id: 'a-run', designId, tagPrefix: 'WREN', at: now }).run()
    db.insert(unit)
      .values({ id: 'a-unit', tag: 'WREN-01', runId: 'a-run', number: 1, at: now, setAsideAt: null, setAsideReason: null })
      .run()
  })
  await maker.buildable.now()
  let isOver = false
  // The answer to the same question is there already: every turn of the loop comes from the reading itself.
  const reading = maker.buildable.now().finally(() => {
    isOver = true
  })
  let turns = 0
  while (!isOver) {
    await nextTurn()
    turns += 1
  }
  expect((await reading).shortfall).toHaveLength(ROWS)
  expect(turns).toBeGreaterThanOrEqual(4)
})
