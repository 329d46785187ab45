import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { batchesFor } from '#stock/shelf/stock.service'
import { bringUpUnit, makeBench } from '#test/make/bench'
import { makeCampaign } from '#test/make/campaign'
import { openStage, type Stage } from '#test/stage'

type Caller = Awaited<ReturnType<Stage['as']>>
const TAG = 'TERN-01'
let stage: Stage
let maker: Caller
let designId: string
let keys = 0
const hand = () => ({ key: `a key of its own ${++keys}`, tag: TAG, seen: TAG })

beforeAll(async () => {
  stage = openStage()
  await makeCampaign(stage)
  ;({ designId } = await makeBench(stage, { units: 3 }))
  maker = await stage.as('maker')
}, 60_000)
afterAll(() => stage.close())

const batchOf = async (designator: string) => {
  const { positions } = await maker.designs.get({ id: designId })
  const partId = positions.find((one) => one.designator === designator)?.partId ?? ''
  return batchesFor(stage.sight(), partId)[0]
}

describe('fitting', () => {
  it('takes pieces from a batch and counts them out of what is in hand', async () => {
    const batch = await batchOf('R1')
    const done = await maker.bringup.fit({ ...hand(), designators: ['R1', 'R2'], batchId: batch?.id ?? '', iron: true })
    expect(done).toMatchObject({ designators: ['R1', 'R2'], undone: [] })
    expect((await batchOf('R1'))?.inHand).toBe((batch?.inHand ?? 0) - 2)
  })

  it.each([
    ['a wrong part', 'R7', 'R1', /R7 takes 100 kΩ resistor.* is 1 kΩ resistor/],
    ['a position that is taken', 'R1', 'R1', /R1 already holds something/],
    ['a position before its check has passed', 'U2', 'U2', /U2 is fitted after B6 has passed, and it has not/],
    ['an unknown position', 'R99', 'R1', /has no position R99/],
  ])('refuses %s', async (_what, designator, from, words) => {
    const batch = await batchOf(from)
    await expect(maker.bringup.fit({ ...hand(), designators: [designator], batchId: batch?.id ?? '', iron: true })).rejects.toThrow(words)
  })

  it('refuses a command that carries the tag of another machine', async () => {
    const batch = await batchOf('R3')
    const wrong = maker.bringup.fit({ ...hand(), seen: 'tern 2', designators: ['R3'], batchId: batch?.id ?? '', iron: true })
    await expect(wrong).rejects.toThrow('You have TERN-02, and this is the page of TERN-01. Nothing was stored.')
  })

  it('does the same thing once, however often it is sent', async () => {
    const batch = await batchOf('R3')
    const input = { ...hand(), designators: ['R3'], batchId: batch?.id ?? '', iron: true }
    expect(await maker.bringup.fit(input)).toEqual(await maker.bringup.fit(input))
    await expect(maker.bringup.fit({ ...input, designators: ['R4'] })).rejects.toThrow('already sent with different content')
  })

  it('is mended when it was mistyped, and undoes nothing', async () => {
    const batch = await batchOf('R3')
    const done = await maker.bringup.correctFitting({ ...hand(), designator: 'R3', batchId: batch?.id ?? '', reason: 'read the wrong bag' })
    expect(done.undone).toEqual([])
  })
})

describe('a unit worked down to its rail', () => {
  beforeAll(async () => {
    expect(await bringUpUnit(stage, TAG, 'B6')).toBe('B6')
  }, 60_000)

  it.each([
    ['nothing', '', /Write what the meter shows, such as 4.98 V/],
    ['a wrong unit', '8.02 mA', /"mA" is not V/],
    ['a figure beyond reason', '1e308', /is not V/],
    ['a thousand times too much', '8020', /8020 V or 8020 mV\?/],
  ])('a reading of %s is refused in words and stores nothing', async (_what, entry, words) => {
    const before = stage.facts().length
    const { instruments } = { instruments: await maker.bringup.instruments() }
    const read = maker.bringup.takeReading({ ...hand(), check: 'B6', entry, instrumentId: instruments[0]?.id ?? '' })
    await expect(read).rejects.toThrow(words)
    expect(stage.facts()).toHaveLength(before)
  })

  it('a reading without an instrument is refused where doubt is weighed', async () => {
    await expect(maker.bringup.takeReading({ ...hand(), check: 'B6', entry: '8.02' })).rejects.toThrow('Choose the instrument')
  })

  it('a check whose needs are not met is refused with the reason', async () => {
    await expect(maker.bringup.takeReading({ ...hand(), check: 'B9', entry: '1.0' })).rejects.toThrow('Needs B8 passed first.')
  })

  it('the thousand is settled by saying which was meant; full-width digits are read', async () => {
    const [meter] = await maker.bringup.instruments()
    const input = { ...hand(), check: 'B6', entry: '８０２０', instrumentId: meter?.id ?? '', confirmThousand: 'shifted' as const }
    expect(await maker.bringup.takeReading(input)).toMatchObject({ entry: '8020 mV', verdict: 'pass' })
  })

  it('a hold point is released by name, and the name is asked for', async () => {
    await expect(maker.bringup.release({ ...hand(), check: 'B6', name: ' ' })).rejects.toThrow('Write your name')
    expect(await maker.bringup.release({ ...hand(), check: 'B6', name: 'Wilma Harrow' })).toMatchObject({ check: 'B6' })
    const view = await maker.bringup.unit({ tag: TAG })
    expect(view.checks.find(({ key }) => key === 'B6')).toMatchObject({ releasedBy: 'Wilma Harrow', permission: { may: 'done' } })
  })

  it('a mistyped reading is corrected; both stay in the record', async () => {
    const [meter] = await maker.bringup.instruments()
    const input = { ...hand(), check: 'B6', entry: '8.03', instrumentId: meter?.id ?? '', reason: 'misread the last digit' }
    await maker.bringup.correct(input)
    const { timeline } = await maker.bringup.unit({ tag: TAG })
    expect(timeline.filter(({ words }) => words.startsWith('B6:'))).toHaveLength(2)
    expect(timeline.map(({ words }) => words).join('\n')).toContain('corrected: misread the last digit')
  })

  it('the screen has the newest of what happened and says how much there is; all of it is there for the asking', async () => {
    const before = await maker.bringup.timeline({ tag: TAG })
    const [meter] = await maker.bringup.instruments()
    for (let time = 0; time < 45; time += 1)
      await maker.bringup.takeReading({ ...hand(), check: 'B6', entry: '8.03', instrumentId: meter?.id ?? '' })
    const { timeline, happened } = await maker.bringup.unit({ tag: TAG })
    const all = await maker.bringup.timeline({ tag: TAG })
    expect([timeline.length, happened, all.length]).toEqual([40, before.length + 45, before.length + 45])
    expect(all.slice(0, 40)).toEqual(timeline)
    expect(all.at(-1)).toEqual(before.at(-1))
  })
})

describe('a certified unit that is reworked', () => {
  const other = 'TERN-02'
  const onOther = () => ({ ...hand(), tag: other, seen: other })
  beforeAll(async () => {
    expect(await bringUpUnit(stage, other)).toBeNull()
    await maker.certificates.issue({ tag: other })
  }, 60_000)
  let batchId: string
  beforeEach(async () => {
    batchId = (await batchOf('Q2'))?.id ?? ''
  })

  const swap = () => [{ designator: 'Q2', outReason: 'drifts when warm', inBatchId: batchId }]

  it('is shown beforehand what a rework undoes, and nothing is stored', async () => {
    const before = stage.facts().length
    const { undone } = await maker.bringup.previewRework({ tag: other, iron: true, changes: swap() })
    const keys = undone.map(({ check }) => check)
    // Local oscillator: its own checks and those downstream, currents of its supply, all that is looked at or measured cold, soak and close-out.
    for (const key of ['B1', 'B2', 'B3', 'B5', 'B10', 'B16', 'B17', 'B19', 'B20', 'B24', 'B28', 'B29']) expect(keys).toContain(key)
    expect(keys).not.toContain('B6')
    expect(stage.facts()).toHaveLength(before)
  })

  it('refuses a rework that names nothing, no words, or an unknown position', async () => {
    const words = { fault: 'Drift', changed: 'Q2 replaced', iron: true }
    await expect(maker.bringup.rework({ ...onOther(), ...words, changes: [] })).rejects.toThrow('Name at least one position or block')
    await expect(maker.bringup.rework({ ...onOther(), ...words, fault: '', changes: swap() })).rejects.toThrow('Say what was found wrong.')
    const unknown = [{ designator: 'Q99', outReason: 'x' }]
    await expect(maker.bringup.rework({ ...onOther(), ...words, changes: unknown })).rejects.toThrow('has no position Q99')
  })

  it('loses those readings and its certificate; what came out is not in hand again', async () => {
    const inHand = (await batchOf('Q2'))?.inHand ?? 0
    const done = await maker.bringup.rework({ ...onOther(), fault: 'Drift', changed: 'Q2 replaced', iron: true, changes: swap() })
    expect(done.undone).toContain('B17')
    expect((await batchOf('Q2'))?.inHand).toBe(inHand - 1)
    const view = await maker.bringup.unit({ tag: other })
    expect(view).toMatchObject({ certificate: null, reached: 2, next: { check: 'B1', may: 'take' } })
    expect(view.checks.find(({ key }) => key === 'B5')?.permission).toMatchObject({ may: 'wait' })
    expect(stage.facts().map(({ kind }) => kind)).toContain('certificate.withdrawn')
  })

  it('passes again when the lost checks are taken again, and may be certified anew', async () => {
    expect(await bringUpUnit(stage, other)).toBeNull()
    expect((await maker.bringup.unit({ tag: other })).missing).toEqual([])
    await maker.certificates.issue({ tag: other })
  }, 60_000)

  it('goes nowhere while it is set aside, and its certificate goes with it', async () => {
    await maker.bringup.setAside({ tag: other, reason: 'A smell of burning' })
    const view = await maker.bringup.unit({ tag: other })
    expect(view).toMatchObject({ setAside: 'A smell of burning', certificate: null, next: null })
    const [meter] = await maker.bringup.instruments()
    const read = maker.bringup.takeReading({ ...onOther(), check: 'B6', entry: '8.0', instrumentId: meter?.id ?? '' })
    await expect(read).rejects.toThrow('Set aside: A smell of burning')
    await maker.bringup.takeUp({ tag: other })
    expect((await maker.bringup.unit({ tag: other })).setAside).toBeNull()
  })
})

describe('runs and instruments', () => {
  it('a tag that no unit carries is not found, in words', async () => {
    const nothing = { code: 'NOT_FOUND', message: 'There is no unit TERN-99. Write its tag, such as TERN-03.' }
    await expect(maker.bringup.unit({ tag: 'TERN-99' })).rejects.toMatchObject(nothing)
    await expect(maker.bringup.choices({ tag: 'TERN-99' })).rejects.toMatchObject(nothing)
  })

  it('letters of tags belong to one run', async () => {
    await expect(maker.bringup.makeRun({ designId, tagPrefix: 'TERN', count: 1 })).rejects.toThrow(
      'Tags that begin with TERN are already in use',
    )
    await expect(maker.bringup.makeRun({ designId, tagPrefix: 'WADER', count: -1 })).rejects.toThrow('Make at least one unit.')
  })

  it('an instrument past its date marks its readings for ever', async () => {
    const input = { name: 'Old meter', accuracy: '±(0.5 % + 2 digits)', checkedOn: '2025-01-01', dueOn: '2026-01-01' }
    expect(await maker.bringup.saveInstrument(input)).toMatchObject({ isOverdue: true })
    await expect(maker.bringup.saveInstrument({ ...input, name: 'Other', dueOn: '2024-01-01' })).rejects.toThrow('It would fall due before')
    await expect(maker.bringup.saveInstrument({ ...input, name: 'Other', accuracy: 'good' })).rejects.toThrow('was not understood')
  })
})

describe('importing a design', () => {
  const lists = {
    checklist: {
      text: 'step,stage,hold,title,kind,nominal,lower,upper,unit,after,exercises,powered,minutes\nA1,cold,,Cold,measure,2,1,,kΩ,,supply,n,2',
    },
    partsList: { text: 'designators,value,quantity,blocks,after\nR1,4k7,1,supply,' },
    feeds: { text: 'from,to,kind\nsupply,,' },
  }
  const input = { ...lists, key: 'small-one', name: 'Small One', revision: 'A', decisionRule: 'simple' as const }

  it('stores once, and a second time changes nothing', async () => {
    const first = await maker.designs.import(input)
    expect(first.outcome).toBe('stored')
    const before = stage.facts().length
    expect(await maker.designs.import(input)).toEqual({ designId: first.designId, outcome: 'unchanged' })
    expect(stage.facts()).toHaveLength(before)
  })

  it('is all or nothing: one wrong line and not even the parts are kept', async () => {
    const parts = (await maker.parts.list()).length
    const wrong = { ...input, key: 'other', partsList: { text: `${lists.partsList.text}\nR2,9k1,1,nowhere,` } }
    await expect(maker.designs.import(wrong)).rejects.toThrow('One thing is to be corrected; nothing was stored. Parts list, line 3')
    expect((await maker.parts.list()).length).toBe(parts)
  })

  it('keeps a revision to which units are being built', async () => {
    const { designId: small } = await maker.designs.import(input)
    await maker.bringup.makeRun({ designId: small, tagPrefix: 'DUNLIN', count: 1 })
    await expect(maker.designs.import({ ...input, name: 'Small Two' })).rejects.toThrow('Give the changed lists a new revision.')
  })
})
