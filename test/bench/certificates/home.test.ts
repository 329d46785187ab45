import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { CHEAP_METER, codeOf, compareAtHome, type HomeCheck, plainCode } from '#bench/certificates/home.rules'
import { boxCode } from '#bench/certificates/home.service'
import { makeTestedUnit } from '#test/make/certified-unit'
import { openStage, type Stage } from '#test/stage'

const rail: HomeCheck = {
  check: 'B6',
  title: 'Regulated rail',
  kind: 'measure',
  shown: '8.02',
  value: 8.02,
  unit: 'V',
  nominal: 8,
  lower: 7.7,
  upper: 8.3,
  doubt: 0.05,
  plain: null,
  verdict: 'pass',
}
const found = (written: string, check = rail, meter = CHEAP_METER) => compareAtHome(check, written, meter)

describe('a reading at home', () => {
  // ±(1 % + 3 digits) at 8.10 V: a = 0.081 + 0.03 = 0.111, U = 2a/√3 = 0.128; with the bench's 0.05 that is 0.138.
  test('carries the doubt of the meter it was taken with', () => {
    const answer = found('8.10')
    expect(answer.ok && answer.found.doubt).toBeCloseTo(0.1282, 4)
  })
  test.each([
    ['8.15', true],
    ['8.16', false],
    ['8160 mV', false],
    ['8.02', true],
  ])('of %s agrees with 8.02 V at the bench: %s', (written, agrees) => {
    const answer = found(written)
    expect(answer.ok && answer.found.agrees).toBe(agrees)
  })
  test('that differs says by how much, and which limit it passes', () => {
    const answer = found('8.60')
    expect(answer.ok && answer.found.words).toMatch(/They differ by 0.58 V.*above the limit of 8.3 V/)
  })
  test('that is no figure, or of a meter that says nothing of volts, is refused in words', () => {
    expect(found('about eight')).toMatchObject({ ok: false })
    expect(found('8.0', rail, 'Ω ±(1 % + 2 digits)')).toMatchObject({ ok: false, words: expect.stringContaining('does not cover V') })
    expect(found('8.0', rail, 'rather good')).toMatchObject({ ok: false, words: expect.stringContaining('About your meter') })
  })
  test('so coarse that it could be anywhere between the limits is asked for all its digits', () => {
    // ±(1.5 % + 5 digits) at 1 kΩ read to the kilohm is some ±5.8 kΩ; at 1.00 it is ±0.075 kΩ.
    const input: HomeCheck = { ...rail, shown: '1.98', value: 1.98, unit: 'kΩ', nominal: null, lower: 0.5, upper: null, doubt: 0.041 }
    expect(found('1', input)).toMatchObject({ ok: false, words: expect.stringMatching(/^Write every digit .* it may be off by 5\.8 kΩ/) })
    expect(found('1.00', input)).toMatchObject({ ok: true, found: { agrees: false } })
    expect(found('2.0', input)).toMatchObject({ ok: true, found: { agrees: true } })
    // Right at its only limit a reading is as good as any other.
    expect(found('0.50', { ...input, shown: '0.50', value: 0.5 })).toMatchObject({ ok: true })
    // Between two limits 0.6 V apart, a whole volt says nothing either.
    expect(found('8', rail)).toMatchObject({ ok: false, words: expect.stringContaining('off by 3.6 V') })
    expect(found('8.0', rail)).toMatchObject({ ok: true })
  })
  test('of yes or no is compared as a word', () => {
    const lamp: HomeCheck = { ...rail, kind: 'yesno', shown: 'yes', value: null, unit: null, lower: null, upper: null, doubt: null }
    expect(found('Yes', lamp)).toMatchObject({ ok: true, found: { agrees: true } })
    expect(found('no', lamp)).toMatchObject({ ok: true, found: { agrees: false } })
    expect(found('perhaps', lamp)).toMatchObject({ ok: false })
  })
})

test('the code of a box is eight letters that are read back however they were copied', () => {
  const code = codeOf(new Uint8Array([0xff, 0, 0x12, 0x34, 0x56]))
  expect(code).toMatch(/^[0-9A-HJKMNP-TV-Z]{4}-[0-9A-HJKMNP-TV-Z]{4}$/)
  expect(plainCode(` ${code.toLowerCase().replace('-', ' ')} `)).toBe(plainCode(code))
  expect(plainCode('O1lI')).toBe('0111')
})

describe('sharing with the maker', () => {
  let stage: Stage
  let unit: Awaited<ReturnType<typeof makeTestedUnit>>
  beforeAll(async () => {
    stage = openStage()
    unit = await makeTestedUnit(stage)
  }, 60_000)
  afterAll(() => stage.close())
  const share = async (more: object = {}) => {
    const view = await stage.visitor().certificates.home({ tag: unit.tag })
    const readings = view.checks.map((check) => ({
      check: check.check,
      written: check.home?.touch === '' ? 'yes' : check.value === null ? check.shown : check.value.toFixed(2),
    }))
    const code = boxCode(stage.sight(), unit.tag)
    return stage
      .visitor()
      .certificates.shareHome({ key: 'home-readings-1', tag: unit.tag, code, meter: CHEAP_METER, readings, note: 'All well.', ...more })
  }

  test('lands at the unit with what was found beside it, once however often it is sent', async () => {
    const answer = await share()
    expect(answer.apart).toBe(0)
    expect(answer.compared).toBeGreaterThan(2)
    expect(await share()).toEqual(answer)
    const { reports } = await (await stage.as('maker')).certificates.homeReports({ tag: unit.tag })
    expect(reports).toHaveLength(1)
    expect(reports[0]).toMatchObject({ serial: unit.serial, note: 'All well.' })
  })

  test('needs the code of that very box', async () => {
    await expect(share({ key: 'home-readings-2', code: '0000-0000' })).rejects.toThrow(/not the code on the card/)
    await expect(share({ key: 'home-readings-3', code: boxCode(stage.sight(), unit.other) })).rejects.toThrow(/not the code/)
  })

  test('needs a reading, and one that can be read', async () => {
    await expect(share({ key: 'home-readings-4', readings: [] })).rejects.toThrow(/at least one reading/)
    const [first] = (await stage.visitor().certificates.home({ tag: unit.tag })).checks
    await expect(share({ key: 'home-readings-5', readings: [{ check: first?.check ?? '', written: 'fine' }] })).rejects.toThrow()
  })
})
