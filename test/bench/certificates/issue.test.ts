import { sql } from 'drizzle-orm'
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest'
import { issueCertificate } from '#bench/certificates/certificates.service'
import { signatureHolds } from '#bench/certificates/signature'
import { certificatesOfUnit, currentCertificate, withdrawForChange } from '#bench/certificates/standing.service'
import { findUnitByTag } from '#bench/units/roster.service'
import { recordOf } from '#floor/record/record.service'
import { DAY } from '#kernel/instant'
import { makeCampaign } from '#test/make/campaign'
import { makeTestedUnit } from '#test/make/certified-unit'
import { openStage, type Stage } from '#test/stage'

/** A unit is built and tested check by check before it can be certified. */
const SLOW = 60_000

const unitIdOf = (stage: Stage, tag: string) => findUnitByTag(stage.sight(), tag)?.id ?? ''

describe('a tested unit', () => {
  let stage: Stage
  let tag: string
  let other: string
  let serial: string
  beforeAll(async () => {
    // Half an hour before midnight where the campaign is: its zone decides the year of a serial.
    stage = openStage({ now: Date.parse('2027-12-31T23:30:00Z') })
    const made = await makeTestedUnit(stage)
    tag = made.tag
    other = made.other
    serial = made.serial
  }, SLOW)
  afterAll(() => stage.close())

  test('is certified with what the bench recorded, signed with the key that the house publishes', async () => {
    const view = await stage.visitor().certificates.show({ serial })
    expect(view).toMatchObject({ serial: 'TS-2027-0001-L', state: { is: 'current' }, isIntact: true })
    expect(view.payload.item.tag).toBe(tag)
    expect(view.payload.results).toHaveLength(29)
    expect(view.payload.issuer.name).toBe('Long Bench workshop')
    expect(signatureHolds(view.signed, stage.sight().keys.jwks())).toBe(true)
    expect(stage.facts().filter(({ kind }) => kind === 'certificate.issued')).toHaveLength(1)
  })

  test('issued again with nothing changed keeps its certificate and gets no second one', async () => {
    const maker = await stage.as('maker')
    stage.clock.pass(DAY)
    expect((await maker.certificates.issue({ tag })).serial).toBe(serial)
    expect(certificatesOfUnit(stage.sight(), unitIdOf(stage, tag))).toHaveLength(1)
  })

  test('has a public record that says so in one sentence and names its certificate', async () => {
    const { record, standing } = await stage.visitor().record.ofUnit({ tag })
    expect(record.sentence).toMatch(/^It passed all 29 checks/)
    expect(standing?.serial).toBe(serial)
    expect(record.missing).toEqual([])
  })

  test('has a record without the name or email address of anybody who tested it', async () => {
    const tester = await stage.actor('maker')
    const words = JSON.stringify(recordOf(stage.sight(), { tag }))
    expect(words).not.toContain(tester.email)
    expect(words).not.toContain(tester.personId)
    expect(words).toContain('the maker')
  })

  test('is not helped by its sister: one that lacks checks is refused with what comes first, and nothing is stored', async () => {
    const maker = await stage.as('maker')
    await expect(maker.certificates.issue({ tag: other })).rejects.toThrow(`${other} cannot be certified yet. `)
    expect(currentCertificate(stage.sight(), unitIdOf(stage, other))).toBeNull()
    expect((await maker.certificates.readiness({ tag: other })).gaps.length).toBeGreaterThan(25)
    const { record, standing } = await stage.visitor().record.ofUnit({ tag: other })
    expect(record.sentence).toBe('Nothing has been tested yet.')
    expect(standing).toBeNull()
  })

  test('that is not there is refused in words', async () => {
    await expect((await stage.as('maker')).certificates.issue({ tag: 'NONE-99' })).rejects.toThrow(/NONE-99/)
  })

  test('has a serial in which a slip of the pen is told apart from one never issued', async () => {
    const show = (written: string) => stage.visitor().certificates.show({ serial: written })
    await expect(show('TS-2027-0010-L')).rejects.toThrow('has a slip in it')
    await expect(show('TS-2027-0147-M')).rejects.toThrow('No certificate has that serial')
    expect((await show(' ts-2027-0001-l ')).serial).toBe(serial)
  })

  test('keeps its certificate when the reason to withdraw it is no more than a word', async () => {
    const maker = await stage.as('maker')
    await expect(maker.bringup.withdrawCertificate({ serial, reason: 'bad' })).rejects.toThrow(/Say why/)
    expect(currentCertificate(stage.sight(), unitIdOf(stage, tag))?.serial).toBe(serial)
  })
})

describe('a certificate that was issued', () => {
  let stage: Stage
  const inDatabase = (statement: string) => stage.db.run(sql.raw(statement))
  const databaseSays = (statement: string): string => {
    try {
      inDatabase(statement)
      return 'done'
    } catch (reason) {
      return reason instanceof Error ? `${reason.message} ${reason.cause}` : String(reason)
    }
  }
  const namedBy = async (serial: string) => {
    const { state } = await stage.visitor().certificates.show({ serial })
    return state.is === 'withdrawn' ? state.again : []
  }
  const readAgain = async (tag: string, check: string) => {
    const maker = await stage.as('maker')
    await maker.bringup.takeReading({ key: `again-${check.padStart(24, '0')}`, tag, seen: tag, check, entry: 'yes' })
    await maker.bringup.release({ key: `release-${check.padStart(24, '0')}`, tag, seen: tag, check, name: 'A. Maker' })
  }
  const begin = async () => {
    stage = openStage()
    return makeTestedUnit(stage)
  }
  afterEach(() => stage.close())

  test(
    'is withdrawn once, with a reason that its page shows from then on',
    async () => {
      const { tag, serial } = await begin()
      const maker = await stage.as('maker')
      await maker.bringup.withdrawCertificate({ serial, reason: 'The meter was found to read high.' })
      const view = await stage.visitor().certificates.show({ serial })
      expect(view.state).toMatchObject({ is: 'withdrawn', at: stage.clock.now(), reason: 'The meter was found to read high.', by: null })
      expect(currentCertificate(stage.sight(), unitIdOf(stage, tag))).toBeNull()
      await expect(maker.bringup.withdrawCertificate({ serial, reason: 'And once more, later.' })).rejects.toThrow('no longer stands')
      expect(databaseSays('UPDATE certificate SET withdrawn_at = NULL, withdrawn_reason = NULL')).toContain('a certificate ends once')
    },
    SLOW,
  )

  test(
    'is superseded by one that says something else, and its page leads there',
    async () => {
      const { tag, serial } = await begin()
      await makeCampaign(stage, { sellerAddress: '5 Slip Road, Ferry Lane' })
      stage.clock.pass(DAY)
      const maker = await stage.actor('maker')
      const second = await stage.command((turn) => issueCertificate(turn, maker, { tag }))
      expect(second.serial).toBe('TS-2027-0002-J')
      const { state } = await stage.visitor().certificates.show({ serial })
      expect(state).toEqual({ is: 'superseded', by: second.serial, at: stage.clock.now() })
      expect(currentCertificate(stage.sight(), unitIdOf(stage, tag))?.serial).toBe(second.serial)
      expect(certificatesOfUnit(stage.sight(), unitIdOf(stage, tag)).map((one) => one.serial)).toEqual([second.serial, serial])
    },
    SLOW,
  )

  test(
    'ends when the unit changes, and the next one has a new serial',
    async () => {
      const { tag, serial } = await begin()
      const changed = () => stage.command((turn) => withdrawForChange(turn, unitIdOf(stage, tag), 'Reworked.'))
      expect(await changed()).toBe(true)
      expect(await changed()).toBe(false)
      expect(stage.facts().filter(({ kind }) => kind === 'certificate.withdrawn')).toHaveLength(1)
      const maker = await stage.actor('maker')
      const issue = () => stage.command((turn) => issueCertificate(turn, maker, { tag }))
      await expect(issue()).rejects.toThrow(`was read before ${serial} was withdrawn`)
      for (const check of await namedBy(serial)) await readAgain(tag, check)
      expect((await issue()).serial).not.toBe(serial)
    },
    SLOW,
  )

  test(
    'cannot be changed or deleted, not even in the database; and if it was all the same, its page says so',
    async () => {
      const { serial } = await begin()
      expect(databaseSays("UPDATE certificate SET payload = 'e30'")).toContain('a certificate is never changed')
      expect(databaseSays('DELETE FROM certificate')).toContain('a certificate is never deleted')
      inDatabase('DROP TRIGGER certificate_is_never_changed')
      inDatabase(`UPDATE certificate SET signature = '${'A'.repeat(86)}'`)
      expect((await stage.visitor().certificates.show({ serial })).isIntact).toBe(false)
    },
    SLOW,
  )
})
