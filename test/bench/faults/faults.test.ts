import { afterEach, describe, expect, it } from 'vitest'
import { bringUpUnit, makeBench } from '#test/make/bench'
import { refusedAt } from '#test/make/refusal'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

/** TERN-01 worked down to its image rejection, which fails. */
async function failing(readings: Record<string, string> = { B21: '12.5' }) {
  stage = openStage()
  await makeBench(stage, { units: 3 })
  await bringUpUnit(stage, 'TERN-01', undefined, readings)
  return stage.as('maker')
}
const refused = async (call: Promise<unknown>) => {
  const [[field, words] = ['', '']] = Object.entries(await refusedAt(call))
  return { field, words }
}
const search = async () => (await stage.as('maker')).faults.search({ tag: 'TERN-01' })
let keys = 0
const hand = (check: string, entry: string) => ({ key: `fault-test-${++keys}`, tag: 'TERN-01', seen: 'TERN-01', check, entry })
const closing = (over: Record<string, string> = {}) => ({
  key: `fault-close-${++keys}`,
  tag: 'TERN-01',
  cause: 'part' as const,
  block: 'front end',
  designator: 'Q1',
  changed: 'Q1 replaced',
  minutes: '45',
  ...over,
})
const rework = (over: object = {}) => ({
  key: `fault-rework-${++keys}`,
  tag: 'TERN-01',
  seen: 'TERN-01',
  iron: false,
  failedCheck: 'B21',
  fault: 'Q1 was dead',
  changed: 'Q1 replaced',
  changes: [{ designator: 'Q1' }],
  ...over,
})

describe('a failed check opens a fault', () => {
  it('with its symptom, once, whatever else fails then', async () => {
    const maker = await failing()
    expect((await search()).open).toMatchObject({ check: 'B21', symptom: 'B21 Image rejection: 12.5 dB', closed: null })
    const instrumentId = (await maker.bringup.instruments()).find(({ name }) => name.startsWith('Level'))?.id
    await maker.bringup.takeReading({ ...hand('B21', '12.6'), instrumentId })
    expect(stage.facts().filter(({ kind }) => kind === 'fault.opened')).toHaveLength(1)
  })

  it('and a check that passes opens none', async () => {
    await failing({})
    expect((await search()).open).toBeNull()
  })

  it('what was seen to work is hardly suspected, what the check looks at is', async () => {
    await failing()
    const { suspects, looks, says, faults, inside } = await search()
    expect(faults).toBe('one')
    expect(suspects[0]?.block).toBe('front end')
    expect(suspects.find(({ block }) => block === 'rail 8 V')?.share).toBeLessThan(0.01)
    expect(suspects.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9)
    expect(says[0]).toContain('B21 failed')
    expect(looks.at(-1)).toMatchObject({ is: 'nothing' })
    expect(inside.block).toBe('front end')
    expect(inside.pieces.map(({ designator }) => designator)).toContain('Q1')
  })

  it('early in the list there is a check that tells, and both its outcomes are shown', async () => {
    await failing({ B11: '0.1' })
    const best = (await search()).looks[0]
    expect(best).toMatchObject({ is: 'tells' })
    expect((best?.failing.chance ?? 0) + (best?.passing.chance ?? 0)).toBeCloseTo(1, 9)
    expect(best?.failing.suspects.length).toBeGreaterThan(0)
  })

  it('a fault that no check shows can be opened by hand, and one at a time', async () => {
    const maker = await failing({})
    expect(await refused(maker.faults.open({ key: 'open-1234', tag: 'TERN-01', symptom: '' }))).toMatchObject({ field: 'symptom' })
    await maker.faults.open({ key: 'open-1234', tag: 'TERN-01', symptom: 'It hums when it is warm' })
    expect((await search()).open).toMatchObject({ check: null, symptom: 'It hums when it is warm' })
    const again = await refused(maker.faults.open({ key: 'open-5678', tag: 'TERN-01', symptom: 'It hisses' }))
    expect(again.words).toBe('A fault of TERN-01 is already open: It hums when it is warm. Close that one first.')
  })
})

describe('while searching', () => {
  it('a check far down the list may be taken at once, is marked, and is no part of the certificate or of progress', async () => {
    const maker = await failing({ B11: '0.1' })
    const ordinary = await refused(maker.bringup.takeReading(hand('B23', '3')))
    expect(ordinary.words).toContain('Needs B20 passed first')
    const instruments = await maker.bringup.instruments()
    const instrumentId = instruments.find(({ name }) => name.startsWith('Level'))?.id
    const before = await maker.bringup.unit({ tag: 'TERN-01' })
    expect(await maker.bringup.search({ ...hand('B23', '3'), instrumentId })).toMatchObject({ check: 'B23', verdict: 'pass' })
    const after = await maker.bringup.unit({ tag: 'TERN-01' })
    const b23 = after.checks.find(({ key }) => key === 'B23')
    expect(b23).toMatchObject({ reading: { isWhileSearching: true }, permission: { may: 'wait' } })
    expect(after.reached).toBe(before.reached)
    expect(after.next).toEqual(before.next)
    expect(after.missing).toContainEqual(expect.stringContaining('B23'))
    expect((await search()).seen.find(({ check }) => check === 'B23')).toMatchObject({ failed: false, isWhileSearching: true })
    expect((await search()).looks.some(({ check }) => check === 'B23')).toBe(false)
  })

  it('one that could have been taken in its order anyway is not marked', async () => {
    const maker = await failing({ B11: '0.1' })
    const instrumentId = (await maker.bringup.instruments()).find(({ name }) => name.startsWith('Bench meter'))?.id
    await maker.bringup.search({ ...hand('B13', '1.0'), instrumentId })
    const view = await maker.bringup.unit({ tag: 'TERN-01' })
    expect(view.checks.find(({ key }) => key === 'B13')?.reading?.isWhileSearching).toBe(false)
  })

  it('power still waits for the rail that holds', async () => {
    const maker = await failing({ B5: '40' })
    const { words } = await refused(maker.bringup.search(hand('B11', '1.2')))
    expect(words).toBe('Hold point B6 has not passed, and power waits for it.')
  })

  it('without an open fault nothing is searched', async () => {
    const maker = await failing({})
    const { words } = await refused(maker.bringup.search(hand('B23', '3')))
    expect(words).toContain('No fault of TERN-01 is open')
  })
})

/** The coils fail beside the oscillator, which they do not feed. */
async function failBoth() {
  const maker = await failing({ B16: '1' })
  const instrumentId = (await maker.bringup.instruments()).find(({ name }) => name.startsWith('Comparator'))?.id
  await maker.bringup.search({ ...hand('B2', '90'), instrumentId })
  return maker
}

describe('two faults at once', () => {
  it('are said, with the pair that explains them', async () => {
    await failBoth()
    const { faults, says, pairs } = await search()
    expect(faults).toBe('two')
    expect(says[0]).toContain('No single block explains that B2 and B16 failed. Two faults at once are tried')
    expect(pairs[0]?.blocks.toSorted()).toEqual(['coils', 'local oscillator'])
  })
})

describe('a fault is closed', () => {
  it('not while the check that opened it still fails, even as a false alarm', async () => {
    const maker = await failing()
    expect((await refused(maker.faults.close(closing()))).words).toContain('B21 still fails. Enter the change as a rework')
    expect((await refused(maker.faults.close(closing({ cause: 'none' })))).words).toContain('Take it again or correct its reading')
  })

  it('with cause, place, change and minutes, and teaches where to look and how long it takes', async () => {
    const maker = await failing()
    const before = await search()
    await maker.bringup.rework(rework())
    await maker.faults.close(closing())
    const after = await search()
    expect(after.open).toBeNull()
    expect(after.earlier[0]?.closed).toMatchObject({
      cause: 'part',
      block: 'front end',
      designator: 'Q1',
      changed: 'Q1 replaced',
      minutes: 45,
    })
    const frontEnd = (view: typeof after) => view.suspects.find(({ block }) => block === 'front end')
    expect(frontEnd(after)?.prior).toBeGreaterThan(frontEnd(before)?.prior ?? 1)
    expect(frontEnd(after)).toMatchObject({ closedHere: 1 })
    expect(frontEnd(after)?.minutes).toBeGreaterThan(30)
  })

  it('the block follows from the position, where that is in one only', async () => {
    const maker = await failing()
    await maker.bringup.rework(rework())
    await maker.faults.close(closing({ block: '' }))
    expect((await search()).earlier[0]?.closed?.block).toBe('front end')
  })

  it('bad input is refused at its field, and nothing is closed', async () => {
    const maker = await failing()
    await maker.bringup.rework(rework())
    expect(await refused(maker.faults.close(closing({ changed: ' ' })))).toMatchObject({ field: 'changed' })
    expect(await refused(maker.faults.close(closing({ designator: 'Q99' })))).toMatchObject({ field: 'designator' })
    for (const minutes of ['an hour', '-5', '1.5', ''])
      expect(await refused(maker.faults.close(closing({ minutes })))).toEqual({
        field: 'minutes',
        words: 'Write how many minutes it took in all, as a whole number such as 45.',
      })
    expect((await search()).open?.check).toBe('B21')
  })

  it('if something else still fails the search goes on as the next fault', async () => {
    const maker = await failBoth()
    await maker.bringup.rework(rework({ failedCheck: 'B16', changes: [], blocks: ['local oscillator'] }))
    const done = await maker.faults.close(closing({ cause: 'joint', block: 'local oscillator', designator: '' }))
    expect(done).toMatchObject({ next: 'B2' })
    expect((await search()).open?.check).toBe('B2')
  })
})

describe('the catch of a check', () => {
  it('is set by the maker, shown beside the usual, and weighed', async () => {
    const maker = await failing()
    const { design } = await search()
    await maker.faults.setCatch({ designId: design.id, check: 'B21', block: 'front end', percent: '5' })
    const table = await maker.faults.catches({ designId: design.id })
    const b21 = table.checks.find(({ key }) => key === 'B21')
    expect(b21?.catches.find(({ block }) => block === 'front end')).toEqual({ block: 'front end', usual: 0.9, set: 0.05 })
    expect((await search()).suspects.find(({ block }) => block === 'front end')?.share).toBeLessThan(0.5)
    await maker.faults.setCatch({ designId: design.id, check: 'B21', block: 'front end', percent: '' })
    expect((await search()).suspects[0]?.block).toBe('front end')
  })

  it('is a per cent, of a check and a block that there are', async () => {
    const maker = await failing()
    const { design } = await search()
    const set = (over: object) =>
      refused(maker.faults.setCatch({ designId: design.id, check: 'B21', block: 'front end', percent: '5', ...over }))
    expect(await set({ percent: '101' })).toMatchObject({ field: 'percent' })
    expect(await set({ percent: 'often' })).toMatchObject({ field: 'percent' })
    expect((await set({ check: 'B99' })).words).toBe('Saltmarsh SR-3 has no check B99.')
    expect((await set({ block: 'engine' })).words).toBe('Saltmarsh SR-3 has no block "engine".')
  })
})

it('the same check failing on two units of a run is said at both', async () => {
  await failing()
  await bringUpUnit(stage, 'TERN-02', undefined, { B21: '11' })
  expect((await search()).shared).toEqual([{ check: 'B21', title: 'Image rejection', tags: ['TERN-01', 'TERN-02'] }])
})
