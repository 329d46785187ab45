import { afterEach, describe, expect, it } from 'vitest'
import { faultTitle } from '#bench/faults/title.rules'
import type { Verdict } from '#bench/units/verdict.rules'
import { bringUpUnit, makeBench } from '#test/make/bench'
import { makeCampaign } from '#test/make/campaign'
import { refusedAt } from '#test/make/refusal'
import { openStage, type Stage } from '#test/stage'

const stands = (check: string, verdict: Verdict, entry = '1 V') => ({ check, title: `Check ${check}`, entry, verdict })
const OPENED = { checkKey: 'C12', symptom: 'C12 Check C12: 0.3 V' }

describe('a fault is called by what fails now', () => {
  it.each([
    ['its own check, as it reads now', [stands('C12', 'fail', '0.4 V')], 'C12 Check C12: 0.4 V'],
    [
      'with what else fails',
      [stands('C12', 'fail'), stands('C14', 'fail'), stands('C15', 'fail')],
      'C12 Check C12: 1 V, and C14, C15 fail too',
    ],
    [
      'another check once its own passes',
      [stands('C12', 'pass'), stands('C14', 'fail')],
      'C14 Check C14: 1 V; C12 failed at first and passes now',
    ],
    ['what it did at first, once nothing fails', [stands('C12', 'pass'), stands('C14', 'pass')], 'C12 failed at first and passes now'],
    ['what it did, while its check waits to be taken again', [], 'C12 Check C12: 0.3 V'],
  ] as const)('%s', (_, now, title) => {
    expect(faultTitle(OPENED, now)).toBe(title)
  })

  it('and by the words of whoever saw it without a check', () => {
    expect(faultTitle({ checkKey: null, symptom: 'Hums once it is warm' }, [stands('C14', 'fail')])).toBe('Hums once it is warm')
  })
})

let stage: Stage
afterEach(() => stage?.close())
let keys = 0
const key = () => `what-fails-now-${++keys}`
const hand = { tag: 'TERN-01', seen: 'TERN-01' }

async function failing() {
  stage = openStage()
  await makeCampaign(stage)
  await makeBench(stage)
  await bringUpUnit(stage, 'TERN-01', undefined, { B21: '2.25' })
  const maker = await stage.as('maker')
  const instrumentId = (await maker.bringup.instruments()).find(({ name }) => name.startsWith('Level'))?.id
  const correct = (entry: string) =>
    maker.bringup.correct({ key: key(), ...hand, check: 'B21', entry, instrumentId, reason: 'a point too many' })
  return { maker, correct }
}

describe('a typing slip', () => {
  it('is refused while the reading still fails, and withdraws the fault once it was put right', async () => {
    const { maker, correct } = await failing()
    expect(Object.values(await refusedAt(maker.faults.withdraw({ key: key(), tag: 'TERN-01' })))[0]).toMatch(/still fails/)
    await correct('22.5')
    expect(await maker.faults.search({ tag: 'TERN-01' })).toMatchObject({ mayBeSlip: true, title: 'B21 failed at first and passes now' })
    await maker.faults.withdraw({ key: key(), tag: 'TERN-01' })
    const { open, earlier } = await maker.faults.search({ tag: 'TERN-01' })
    expect(open).toBeNull()
    expect(earlier[0]?.closed).toMatchObject({ cause: 'none', changed: expect.stringContaining('typing slip') })
  })

  it('is no way out once something was changed', async () => {
    const { maker, correct } = await failing()
    const changes = [{ designator: 'Q1', outReason: 'dead', inBatchId: undefined }]
    await maker.bringup.rework({ key: key(), ...hand, iron: false, fault: 'Q1 dead', changed: 'Q1 out', changes })
    await correct('22.5').catch(() => undefined)
    expect(Object.values(await refusedAt(maker.faults.withdraw({ key: key(), tag: 'TERN-01' })))[0]).toMatch(/changed since/)
  })
})

it('certifying with a fault open asks, and says so on the certificate once it was meant', async () => {
  const { maker, correct } = await failing()
  await correct('22.5')
  expect(await bringUpUnit(stage, 'TERN-01')).toBeNull()
  const words = await refusedAt(maker.certificates.issue({ tag: 'TERN-01' }))
  expect(words.confirmFault).toMatch(/^A fault of TERN-01 is open: B21 failed at first and passes now\./)
  const { serial } = await maker.certificates.issue({ tag: 'TERN-01', confirmFault: true })
  const { payload } = await stage.visitor().certificates.show({ serial })
  expect(payload.deviations).toContain('A fault was open when this was signed: B21 failed at first and passes now.')
  expect(payload.faults).toMatchObject([{ check: 'B21', closedAt: null, cause: null }])
  const { record } = await stage.visitor().record.ofUnit({ tag: 'TERN-01' })
  expect(record.faults).toHaveLength(1)
  await maker.faults.withdraw({ key: key(), tag: 'TERN-01' })
  const again = await maker.certificates.issue({ tag: 'TERN-01' })
  expect(again.serial).not.toBe(serial)
})
