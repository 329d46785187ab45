import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { verifyByLibrary } from '#app/_trust/ed25519.ts'
import { fromBase64url } from '#bench/certificates/base64url.rules'
import { checkSigned } from '#bench/certificates/check.rules'
import { readKeySet, sha256Hex } from '#bench/certificates/key-set.rules'
import { schemaOf } from '#bench/certificates/record.schema.rules'
import { checkStanding, tellStanding } from '#bench/certificates/status.rules'
import { ADDRESSES } from '#doors/web/addresses'
import { DAY, HOUR } from '#kernel/instant'
import { matchAddress } from '#runtime/call/address'
import { makeTestedUnit } from '#test/make/certified-unit'
import { openStage, type Stage } from '#test/stage'
import { standsAs, verifySigned, verifyStanding } from '#test/verifier/verify-certificate'

const DOCUMENT = readFileSync(join(import.meta.dirname, '..', '..', '..', 'public', 'certificate-format.md'), 'utf8')

/** Every name that the published form has, however deep. */
function namesOf(schema: unknown): string[] {
  if (typeof schema !== 'object' || schema === null) return []
  const { properties, ...rest } = schema as { properties?: Record<string, unknown> }
  return [...Object.keys(properties ?? {}), ...Object.values(properties ?? {}).flatMap(namesOf), ...Object.values(rest).flatMap(namesOf)]
}

// What stands in these is told in a sentence.
const IN_SENTENCES = new Set([
  ...['name', 'address', 'campaign', 'cause', 'contact', 'checklist', 'digest', 'words', 'designators', 'part', 'batch', 'sha256'],
  ...['from', 'to', 'fault', 'what', 'iron', 'undid', 'whyNotCurrent', 'accuracy', 'checkedAt', 'dueAt', 'work'],
])

test.each(['certificate-1', 'standing-1'])('the document says what each name of %s means', (form) => {
  const names = [...new Set(namesOf(schemaOf(form)))].filter((name) => !IN_SENTENCES.has(name))
  expect(names.length).toBeGreaterThan(10)
  expect(names.filter((name) => !DOCUMENT.includes(`\`${name}\``))).toEqual([])
})

describe('a certificate of the house', () => {
  let stage: Stage
  let unit: Awaited<ReturnType<typeof makeTestedUnit>>
  beforeAll(async () => {
    stage = openStage()
    unit = await makeTestedUnit(stage)
  }, 60_000)
  afterAll(() => stage.close())

  const get = (path: string) => {
    const match = matchAddress(ADDRESSES, path)
    return JSON.parse(String(match?.address.answer(stage.sight(), match.params, new URLSearchParams())?.body))
  }

  test('and how it stands are found the same by the house and by a checker that was written from the document alone', async () => {
    const jwks = get('/.well-known/jwks.json')
    const file = get(`/certificates/${unit.serial}.json`)
    const read = readKeySet(jwks)
    if ('fault' in read) throw new Error(read.fault)
    const verify = async (x: string, signature: Uint8Array, text: Uint8Array) => verifyByLibrary(x, signature, text)
    const check = await checkSigned(file, read.keys, verify)
    if (check.outcome !== 'holds') throw new Error(check.words)
    const { document } = check
    expect(verifySigned(file, jwks)).toEqual(document)
    // Nobody started the soak in this house: whoever entered it wrote the hours down.
    expect(document.results.flatMap(({ soak }) => soak ?? [])).toEqual([{ hours: 12, coldStarts: 6, seen: 'stated' }])
    expect(document.withdrawn).toEqual([])

    const bothSay = async (now: number) => {
      const list = get('/certificates.json')
      const standing = await checkStanding(list, read.keys, verify, now)
      if (standing.outcome !== 'holds') throw new Error(standing.words)
      const digest = sha256Hex(fromBase64url(file.payload) ?? new Uint8Array())
      const told = tellStanding(standing.standing, { serial: unit.serial, document: digest, issuedAt: document.issuedAt }, now)
      return [told.tone, standsAs(verifyStanding(list, jwks, now), file, now)]
    }
    expect(await bothSay(stage.clock.now())).toEqual(['ok', 'current'])
    expect(await bothSay(stage.clock.now() + DAY + 1)).toEqual(['doubt', 'old'])
    stage.clock.pass(HOUR)
    await (await stage.as('maker')).bringup.setAside({ tag: unit.tag, reason: 'Something rattles.' })
    expect(await bothSay(stage.clock.now())).toEqual(['bad', 'withdrawn'])
  }, 60_000)
})
