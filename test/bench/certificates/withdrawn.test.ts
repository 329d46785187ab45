import { afterEach, describe, expect, test } from 'vitest'
import { namedByWithdrawal } from '#bench/certificates/certificates.rules'
import { issueCertificate } from '#bench/certificates/certificates.service'
import { HOUR } from '#kernel/instant'
import { makeTestedUnit } from '#test/make/certified-unit'
import { openStage, type Stage } from '#test/stage'

const SLOW = 60_000
const REASON = 'The meter of that day read high.'

let stage: Stage
afterEach(() => stage.close())

let form = 0
const key = () => `form-${String(++form).padStart(24, '0')}`

async function begin() {
  stage = openStage()
  const { tag, serial } = await makeTestedUnit(stage)
  const maker = await stage.as('maker')
  const actor = await stage.actor('maker')
  const issue = () => stage.command((turn) => issueCertificate(turn, actor, { tag }))
  const instrumentId = (await maker.bringup.instruments()).find(({ name }) => name === 'Bench meter no. 2')?.id
  const hand = () => ({ key: key(), tag, seen: tag, instrumentId })
  const read = async (check: string, entry: string) => {
    await maker.bringup.takeReading({ ...hand(), check, entry })
    // B6 is a hold point: what was released before was released on the reading before.
    if (check === 'B6') await maker.bringup.release({ key: key(), tag, seen: tag, check, name: 'A. Maker' })
  }
  const show = async (one: string) => (await stage.visitor().certificates.show({ serial: one })).state
  return { tag, serial, maker, issue, hand, read, show }
}

describe('a certificate that was withdrawn', () => {
  test(
    'is not made good by signing the same readings again: what was named must be measured anew, and the next one says why',
    async () => {
      const { tag, serial, maker, issue, read, show } = await begin()
      await maker.bringup.withdrawCertificate({ serial, reason: REASON, checks: 'b6, B9' })
      await expect(issue()).rejects.toThrow(`B6`)
      expect((await maker.certificates.readiness({ tag })).gaps.map(({ check }) => check)).toEqual(['B6', 'B9'])

      stage.clock.pass(HOUR)
      await read('B6', '8.01')
      await expect(issue()).rejects.toThrow(`was read before ${serial} was withdrawn`)
      await read('B9', '1.04')
      expect(await show(serial)).toMatchObject({ is: 'withdrawn', reason: REASON, again: ['B6', 'B9'], by: null })

      const next = await issue()
      const { payload } = await stage.visitor().certificates.show({ serial: next.serial })
      expect(payload.withdrawn).toEqual([{ serial, at: expect.any(String), reason: REASON, again: ['B6', 'B9'] }])
      expect(await show(serial)).toMatchObject({ is: 'withdrawn', by: next.serial })
      // Nothing has changed since: the same one is the answer, and what it says of the earlier one stays.
      expect((await issue()).serial).toBe(next.serial)
    },
    SLOW,
  )

  test(
    'is not made good by correcting a figure that was read before',
    async () => {
      const { serial, maker, issue, hand } = await begin()
      await maker.bringup.withdrawCertificate({ serial, reason: REASON, checks: 'B9' })
      await maker.bringup.correct({ ...hand(), check: 'B9', entry: '1.05', reason: 'Written wrongly.' })
      await expect(issue()).rejects.toThrow(`was read before ${serial} was withdrawn`)
    },
    SLOW,
  )

  test(
    'names the close-out where no check was named, as when the unit is set aside and taken up again',
    async () => {
      const { tag, serial, maker, issue, show } = await begin()
      await maker.bringup.setAside({ tag, reason: 'Something rattles.' })
      await maker.bringup.takeUp({ tag })
      const state = await show(serial)
      expect(state.is === 'withdrawn' && state.again.length).toBeGreaterThan(0)
      await expect(issue()).rejects.toThrow(`was read before ${serial} was withdrawn`)
    },
    SLOW,
  )

  test(
    'may have said a figure that was put right since: what the house signs of it is not what its own record contradicts',
    async () => {
      const { tag, serial, maker, issue, hand, read, show } = await begin()
      const correction = { ...hand(), check: 'B6', entry: '8.04', reason: 'A slip of the pen.' }
      await maker.bringup.correct(correction)
      const reason = 'B6 was put right, from 8.00 V to 8.04 V: A slip of the pen.'
      expect(await show(serial)).toMatchObject({ is: 'withdrawn', reason, again: ['B6'], by: null })
      expect((await maker.bringup.unit({ tag })).certificate).toBeNull()
      await expect(issue()).rejects.toThrow('B6')

      stage.clock.pass(HOUR)
      await read('B6', '8.03')
      const next = await issue()
      expect(await show(serial)).toMatchObject({ is: 'withdrawn', reason, by: next.serial })
      // The same answer to the same form, and no second effect.
      await maker.bringup.correct(correction)
      expect(await show(next.serial)).toEqual({ is: 'current' })
    },
    SLOW,
  )

  test(
    'is none that says how something was read, and that was taken again since or put right after that',
    async () => {
      const { serial, maker, hand, read, show } = await begin()
      stage.clock.pass(HOUR)
      await read('B6', '8.01')
      expect(await show(serial)).toEqual({ is: 'current' })
      stage.clock.pass(HOUR)
      await maker.bringup.correct({ ...hand(), check: 'B6', entry: '8.03', reason: 'Two digits changed places.' })
      expect(await show(serial)).toEqual({ is: 'current' })
      await maker.bringup.correct({ ...hand(), check: 'B9', entry: '9.9', reason: 'It was read off another range.' })
      expect(await show(serial)).toMatchObject({ is: 'withdrawn', reason: expect.stringMatching(/^B9 was put right, .* and is a fail: /) })
    },
    SLOW,
  )

  test(
    'cannot name a check that is none, and says so at the field',
    async () => {
      const { serial, maker, show } = await begin()
      const refused = maker.bringup.withdrawCertificate({ serial, reason: REASON, checks: 'B6 B99' })
      await expect(refused).rejects.toThrow('has no check B99')
      expect(await show(serial)).toEqual({ is: 'current' })
    },
    SLOW,
  )
})

test('what a withdrawal names is of the checklist; without any of it the close-out, without a close-out the last check', () => {
  stage = openStage()
  const list = [
    { key: 'A1', stageKind: 'cold' },
    { key: 'A2', stageKind: 'close-out' },
    { key: 'A3', stageKind: 'close-out' },
  ] as const
  expect(namedByWithdrawal(['A1', 'Z9'], list)).toEqual(['A1'])
  expect(namedByWithdrawal([], list)).toEqual(['A2', 'A3'])
  expect(namedByWithdrawal(['Z9'], list)).toEqual(['A2', 'A3'])
  expect(namedByWithdrawal([], list.slice(0, 1))).toEqual(['A1'])
})
