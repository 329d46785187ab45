import fc from 'fast-check'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { readDraft } from '#bench/designs/draft.rules'
import { keptParts, readRows } from '#bench/designs/revise.service'
import { type Cells, cellsOf, feedCells } from '#bench/designs/written.rules'
import { bringUpUnit, makeBench } from '#test/make/bench'
import { makeCampaign } from '#test/make/campaign'
import { refusedAt } from '#test/make/refusal'
import { openStage, type Stage } from '#test/stage'

const TAG = 'TERN-01'
let stage: Stage
let designId: string
beforeAll(async () => {
  stage = openStage()
  await makeCampaign(stage)
  designId = (await makeBench(stage)).designId
  await bringUpUnit(stage, TAG, 'B12')
}, 60_000)
afterAll(() => stage.close())

const design = async () => (await stage.as('maker')).designs.get({ id: designId })
const written = async () => {
  const { checks, feeds, blocks } = await design()
  return { checklist: checks.map(cellsOf), feeds: feedCells(blocks, feeds) }
}
const input = async (revision: string, change: (rows: Cells[]) => Cells[] = (rows) => rows) => {
  const { decisionRule, quirks, cautions } = await design()
  const { checklist, feeds } = await written()
  return { fromDesignId: designId, revision, decisionRule, quirks, cautions, feeds, checklist: change(checklist) }
}
const put = (key: string, over: Cells) => (rows: Cells[]) => rows.map((row) => (row.step === key ? { ...row, ...over } : row))

describe('a design as rows', () => {
  it('is read back as the same checks, blocks and feeds', async () => {
    const whole = await design()
    const read = readDraft(await written(), keptParts(whole))
    expect(read.flaws).toEqual([])
    expect(read.checks).toEqual(whole.checks)
    expect(new Set(read.blocks)).toEqual(new Set(whole.blocks))
    expect(read.feeds).toEqual(whole.feeds)
  })

  it('goes out as CSV and comes in the same, limits off the nominal, quotes, commas and formulas among it', async () => {
    const maker = await stage.as('maker')
    const { designId: id } = await maker.designs.revise(
      await input('csv', (rows) =>
        put('B6', { lower: '-3.75 %', upper: '+3.75 %', plain: '=1+1, "said" he; and\nwent on', caution: '-' })(rows),
      ),
    )
    const files = await maker.designs.sheets({ id })
    const before = await maker.designs.get({ id })
    expect(before.checks.find(({ key }) => key === 'B6')).toMatchObject({
      lower: 7.7,
      upper: 8.3,
      limitsAs: { lower: '−3.75 %', upper: '+3.75 %' },
    })
    const checklist = readRows({ list: 'checklist', sheet: { name: '', base64: Buffer.from(files.checklist.text).toString('base64') } })
    const feeds = readRows({ list: 'feeds', sheet: { name: '', text: files.feeds.text } })
    expect(readDraft({ checklist, feeds }, keptParts(before)).checks).toEqual(before.checks)
  })

  it('says at which cell what is to be done, and stores nothing', async () => {
    const maker = await stage.as('maker')
    const refused = await refusedAt(maker.designs.revise(await input('bad', put('B6', { lower: '9', after: 'B9' }))))
    expect(refused['checklist.5.upper']).toContain('is below the lower')
    expect(Object.values(refused).join(' ')).toMatch(/B6 needs B9.*none of these could ever be taken/)
    expect((await maker.designs.list()).filter(({ revision }) => revision === 'bad')).toEqual([])
  })

  it('whatever is typed into the cells, it is read or refused in words', async () => {
    const { checklist, feeds } = await written()
    const parts = keptParts(await design())
    const names = Object.keys(checklist[0] ?? {})
    const cell = fc.oneof(fc.string(), fc.constantFrom('1e999', '∞', 'NaN', '-5 %', '١٢', '=1', '9'.repeat(400)))
    fc.assert(
      fc.property(fc.nat(checklist.length - 1), fc.constantFrom(...names), cell, (at, name, text) => {
        const rows = checklist.map((row, index) => (index === at ? { ...row, [name]: text } : row))
        for (const { words } of readDraft({ checklist: rows, feeds }, parts).flaws) expect(words).toMatch(/[.!?]$|exact/)
      }),
      { numRuns: 300 },
    )
  })
})

describe('a unit goes on by another revision', () => {
  it('is told what carries over and what must be retaken, before and after', async () => {
    const maker = await stage.as('maker')
    const change = (rows: Cells[]) =>
      put('B5', { title: 'Idle current, told better' })(put('B6', { upper: '8.2' })(rows)).concat([
        { ...(rows[0] ?? {}), step: 'B99', title: 'One more look', after: '', hold: '' },
      ])
    const { designId: next } = await maker.designs.revise(await input('next', change))
    const [means] = (await maker.bringup.otherRevisions({ designId: next })).filter(({ tag }) => tag === TAG)
    expect(means?.stops).toBeNull()
    expect(means?.retakes).toEqual([{ check: 'B6', title: expect.any(String), why: 'its limits were 7.7 to 8.3 V and are 7.7 to 8.2 V' }])
    expect(means?.carries.find(({ check }) => check === 'B5')?.worded).toBe(true)
    expect(means?.begins).toEqual([{ check: 'B99', title: 'One more look' }])

    const before = await maker.bringup.unit({ tag: TAG })
    const moved = await maker.bringup.move({ key: 'moved once', tag: TAG, designId: next, alsoRetake: ['B7'] })
    expect(moved.undone).toEqual(['B6', 'B7'])
    const after = await maker.bringup.unit({ tag: TAG })
    const entry = (view: typeof before, key: string) => view.checks.find((check) => check.key === key)?.reading?.entry ?? null
    expect(after.design.revision).toBe('next')
    expect(entry(after, 'B5')).toBe(entry(before, 'B5'))
    expect(entry(after, 'B6')).toBeNull()
    expect(after.checks.find(({ key }) => key === 'B6')?.lost).toContain('Revision next: its limits were')
    expect(after.timeline.find(({ words }) => words.startsWith('B6:'))?.words).toContain(entry(before, 'B6') ?? 'nothing')
    await expect(maker.bringup.move({ key: 'moved twice', tag: TAG, designId: next })).rejects.toThrow('is at revision next already')
  })

  it('a unit of another design cannot be moved to it, and the old revision can no longer be changed', async () => {
    const maker = await stage.as('maker')
    const other = (await maker.designs.list()).find(({ key }) => key === 'copperbeech-v1')
    await expect(maker.bringup.move({ key: 'moved wrong', tag: TAG, designId: other?.id ?? '' })).rejects.toThrow(
      'Choose a revision of that',
    )
  })
})
