import Ajv from 'ajv/dist/2020'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { ADDRESSES } from '#doors/web/addresses'
import { matchAddress } from '#runtime/call/address'
import { makeTestedUnit } from '#test/make/certified-unit'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
let unit: Awaited<ReturnType<typeof makeTestedUnit>>
beforeAll(async () => {
  stage = openStage()
  unit = await makeTestedUnit(stage)
}, 60_000)
afterAll(() => stage.close())

function get(path: string) {
  const match = matchAddress(ADDRESSES, path)
  const body = match?.address.answer(stage.sight(), match.params, new URLSearchParams())?.body
  return body === undefined ? null : JSON.parse(String(body))
}
/** Another library, from the schema as it is published; times are held by their patterns. */
const validatorOf = (name: string) =>
  new Ajv({ strict: true, validateFormats: false, allErrors: true }).compile(get(`/schemas/${name}.json`))

test('the record of each unit, tested or not, is of the form that is published', () => {
  const holds = validatorOf('record-1')
  for (const tag of [unit.tag, unit.other]) {
    const record = get(`/units/${tag}/record.json`)
    expect(holds(record), JSON.stringify(holds.errors)).toBe(true)
    expect(record.$schema).toBe('/schemas/record-1.json')
  }
})

test('what is signed is of the form that is published', () => {
  const holds = validatorOf('certificate-1')
  const { payload } = get(`/certificates/${unit.serial}.json`)
  expect(holds(JSON.parse(Buffer.from(payload, 'base64url').toString())), JSON.stringify(holds.errors)).toBe(true)
})

test.each([
  ['a field too many', (record: Record<string, unknown>) => ({ ...record, donor: 'Ada' })],
  ['a version to come', (record: Record<string, unknown>) => ({ ...record, version: 2 })],
  ['a time that is none', (record: Record<string, unknown>) => ({ ...record, lastReadingAt: 'yesterday' })],
  ['no verdict', ({ sentence: _gone, ...record }: Record<string, unknown>) => record],
])('a record with %s is not', (_what, change) => {
  expect(validatorOf('record-1')(change(get(`/units/${unit.tag}/record.json`)))).toBe(false)
})

test.each(['record-2', '__proto__', 'constructor'])('there is no schema %s', (name) => {
  expect(get(`/schemas/${name}.json`)).toBeNull()
})
