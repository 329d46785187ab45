import { afterAll, beforeAll, expect, test } from 'vitest'
import { listInstruments } from '#bench/units/instruments.service'
import { nextPermitted } from '#bench/units/permitted.rules'
import { releaseHold, takeReading } from '#bench/units/readings.service'
import { loadUnit, withReading, withRelease } from '#bench/units/unit-state.service'
import type { Turn } from '#runtime/queue/turn'
import { bringUpUnit, makeBench } from '#test/make/bench'
import { openStage, type Stage } from '#test/stage'

const TAG = 'TERN-01'
let stage: Stage
beforeAll(async () => {
  stage = openStage()
  await makeBench(stage, { units: 1 })
  expect(await bringUpUnit(stage, TAG, 'B6')).toBe('B6')
}, 60_000)
afterAll(() => stage.close())

const hand = (key: string) => ({ key, tag: TAG, seen: TAG, check: 'B6' })

test('a unit with one more reading, or one more release, is the unit as it is when it is loaded anew', async () => {
  const maker = await stage.actor('maker')
  await stage.command((turn: Turn) => {
    const meter = listInstruments(turn).find(({ name }) => name.includes('meter'))
    const before = loadUnit(turn, TAG)
    const reading = { ...hand('a reading'), entry: '8.02', instrumentId: meter?.id, hours: '', starts: '', ambient: '', note: '' }
    const taken = takeReading(turn, maker, reading)
    const read = loadUnit(turn, TAG)
    const [row] = read.readings.slice(-1)
    expect(row?.id).toBe(taken.readingId)
    if (row) expect(withReading(before, row)).toEqual(read)
    expect(taken.next).toBe(nextPermitted(read.bench)?.check)

    const released = releaseHold(turn, maker, { ...hand('a release'), name: 'Wilma Harrow' })
    const after = loadUnit(turn, TAG)
    const [release] = after.releases.slice(-1)
    expect(release?.name).toBe('Wilma Harrow')
    if (release) expect(withRelease(read, release)).toEqual(after)
    expect(released.next).toBe(nextPermitted(after.bench)?.check)
  })
})
