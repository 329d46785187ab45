import { afterEach, expect, test } from 'vitest'
import { certifiedRecord } from '#bench/certificates/record.service'
import { saveInstrument } from '#bench/units/instruments.service'
import { loadUnit } from '#bench/units/unit-state.service'
import { HOUR, toIso } from '#kernel/instant'
import { makeTestedUnit } from '#test/make/certified-unit'
import { openStage, type Stage } from '#test/stage'

const METER = 'Bench meter no. 2'
const FINER = 'V ±(0.2 % + 2 digits); V rms ±(1 % + 3 digits); Ω ±(0.8 % + 2 digits); A ±(1 % + 3 digits); 6000 counts'
let stage: Stage
afterEach(() => stage.close())

const instruments = (tag: string) => {
  const { instruments: all } = certifiedRecord(stage.sight(), loadUnit(stage.sight(), tag)).record
  return all.filter(({ name }) => name.startsWith(METER))
}

const asSigned = ({ checkedAt, dueAt, ...one }: ReturnType<typeof instruments>[number]) => ({
  ...one,
  checkedAt: toIso(checkedAt ?? 0),
  dueAt: toIso(dueAt ?? 0),
})

test('a record names its instruments as they were when something was measured, whatever became of them since', async () => {
  stage = openStage()
  const { tag, serial } = await makeTestedUnit(stage)
  const maker = await stage.as('maker')
  const meter = (await maker.bringup.instruments()).find(({ name }) => name === METER)
  const before = instruments(tag)
  expect(before).toHaveLength(1)
  const { payload } = await stage.visitor().certificates.show({ serial })
  expect(payload.instruments.filter(({ name }) => name === METER)).toEqual(before.map(asSigned))

  stage.clock.pass(HOUR)
  const anew = { id: meter?.id, name: METER, accuracy: FINER, checkedOn: '2027-03-12', dueOn: '2028-03-12' }
  const actor = await stage.actor('maker')
  await stage.command((turn) => saveInstrument(turn, actor, anew))
  expect(instruments(tag)).toEqual(before)
  const hand = (key: string) => ({ key: key.padEnd(24, '0'), tag, seen: tag, instrumentId: meter?.id })
  await maker.bringup.correct({ ...hand('put-right'), check: 'B9', entry: '1.05', reason: 'Written wrongly.' })
  expect(instruments(tag)).toEqual(before)
  await maker.bringup.takeReading({ ...hand('again'), check: 'B9', entry: '1.04' })
  const after = { name: METER, accuracy: FINER, checkedAt: Date.parse('2027-03-12'), dueAt: Date.parse('2028-03-12') }
  expect(instruments(tag)).toEqual([...before, after])
  await stage.command((turn) => saveInstrument(turn, actor, { ...anew, name: `${METER}, repaired`, checkedOn: '2027-03-13' }))
  expect(instruments(tag)).toEqual([...before, after])
}, 60_000)
