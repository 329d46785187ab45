import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { flattenedVerify, importJWK } from 'jose'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { ADDRESSES } from '#doors/web/addresses'
import { matchAddress } from '#runtime/call/address'
import { makeTestedUnit } from '#test/make/certified-unit'
import { openPdf, scanQr } from '#test/paper/read-pdf'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
let unit: Awaited<ReturnType<typeof makeTestedUnit>>
beforeAll(async () => {
  stage = openStage()
  unit = await makeTestedUnit(stage)
}, 60_000)
afterAll(() => stage.close())

async function get(path: string) {
  const url = new URL(path, 'http://house')
  const match = matchAddress(ADDRESSES, url.pathname)
  return match ? match.address.answer(stage.sight(), match.params, url.searchParams) : null
}
async function getPaper(path: string): Promise<Buffer> {
  const body = (await get(path))?.body
  if (typeof body !== 'object' || !('print' in body)) throw new Error(`${path} is no paper`)
  return Buffer.from(await stage.house.press.print(body.print))
}
const getJson = async (path: string) => JSON.parse(String((await get(path))?.body))

test('the signed record is three parts and nothing else, and jose verifies it with the published key alone', async () => {
  const signed = await getJson(`/certificates/${unit.serial}.json`)
  expect(Object.keys(signed).sort()).toEqual(['payload', 'protected', 'signature'])
  const { keys } = await getJson('/.well-known/jwks.json')
  expect(keys[0]).toMatchObject({ kty: 'OKP', crv: 'Ed25519' })
  expect(keys[0]).not.toHaveProperty('d')
  const { payload } = await flattenedVerify(signed, await importJWK(keys[0]))
  expect(JSON.parse(new TextDecoder().decode(payload)).item.tag).toBe(unit.tag)
})

describe('the program for Node', () => {
  const program = join(import.meta.dirname, '..', '..', '..', 'public', 'tagstrip-check.mjs')
  const folder = mkdtempSync(join(tmpdir(), 'tagstrip-check-'))
  afterAll(() => rmSync(folder, { recursive: true }))
  const keep = (name: string, content: string | object) => {
    const file = join(folder, name)
    writeFileSync(file, typeof content === 'string' ? content : JSON.stringify(content))
    return file
  }
  const run = async (signed: string | object, ...more: string[]) => {
    const keys = keep('jwks.json', await getJson('/.well-known/jwks.json'))
    const { status, stdout, stderr } = spawnSync(process.execPath, [program, keep('signed.json', signed), keys, ...more], {
      encoding: 'utf8',
    })
    return { status, words: stdout + stderr }
  }

  test('is one file that is read in a quarter of an hour, and needs nothing but Node', () => {
    const lines = readFileSync(program, 'utf8').trimEnd().split('\n')
    // A quarter of it is tables of what each value has to be, which are read at a glance; the rest is by kind of file, each read by itself.
    expect(lines.length).toBeLessThanOrEqual(750)
    for (const line of lines.filter((one) => one.startsWith('import'))) expect(line).toMatch(/'node:/)
  })

  test('says what holds, and that the record for machines says the same', async () => {
    const signed = await getJson(`/certificates/${unit.serial}.json`)
    expect(await run(signed)).toMatchObject({ status: 0, words: expect.stringContaining(`Holds: ${unit.serial}, ${unit.tag}`) })
    const record = keep('record.json', await getJson(`/units/${unit.tag}/record.json`))
    expect(await run(signed, record)).toMatchObject({ status: 0, words: expect.stringContaining('says the same') })
  })

  test('names the first field of a record that differs', async () => {
    const signed = await getJson(`/certificates/${unit.serial}.json`)
    const record = await getJson(`/units/${unit.tag}/record.json`)
    record.results[2].upper = 99
    const { status, words } = await run(signed, keep('record.json', record))
    expect(status).toBe(1)
    expect(words).toMatch(new RegExp(`results\\.${record.results[2].check}\\.upper: signed .*, given 99`))
  })

  test.each<[string, (signed: { payload: string; protected: string; signature: string }) => string | object, RegExp]>([
    ['one letter changed', (s) => ({ ...s, payload: `eyI${s.payload.slice(3)}` }), /changed after it was signed|canonical/],
    ['its last character changed', (s) => ({ ...s, signature: `${s.signature.slice(0, -1)}B` }), /signature is not canonical base64url/],
    ['padding', (s) => ({ ...s, signature: `${s.signature}==` }), /signature is not canonical base64url/],
    ['a cut', (s) => JSON.stringify(s).slice(0, 900), /cut off/],
    ['something more in it', (s) => ({ ...s, header: {} }), /no signed record/],
  ])('a signed record with %s does not hold, and says why', async (_what, forge, words) => {
    const told = await run(forge(await getJson(`/certificates/${unit.serial}.json`)))
    expect(told.status).toBe(1)
    expect(told.words).toMatch(words)
  })
})

test('the paper is a PDF whose QR code leads to the page of the certificate', async () => {
  const path = `/certificates/${unit.serial}.pdf`
  expect(await get(path)).toMatchObject({ type: 'application/pdf', fileName: `${unit.serial}.pdf` })
  const pdf = await openPdf(await getPaper(path))
  expect((await scanQr(pdf)).text).toBe(`https://bench.example/certificates/${unit.serial}`)
})

test('the paper comes on Letter when asked for, and on A4 for anything else', async () => {
  const wide = async (query: string) => {
    const pdf = await openPdf(await getPaper(`/certificates/${unit.serial}.pdf${query}`))
    return (await pdf.getPage(1)).view[2]
  }
  expect(await wide('?paper=letter')).toBe(612)
  expect(await wide('')).toBeCloseTo(595.28)
  expect(await wide('?paper=__proto__')).toBeCloseTo(595.28)
})

test('the record of a unit names the path of its certificate; that of an untested one names none', async () => {
  expect(await getJson(`/units/${unit.tag}/record.json`)).toMatchObject({
    tag: unit.tag,
    certificate: `/certificates/${unit.serial}`,
    links: { signed: `/certificates/${unit.serial}.json`, keys: '/.well-known/jwks.json' },
  })
  expect(await getJson(`/units/${unit.other}/record.json`)).toMatchObject({ certificate: null, results: [] })
})

test('instants of the record are ISO 8601 in UTC', async () => {
  const record = await getJson(`/units/${unit.tag}/record.json`)
  for (const at of [record.firstReadingAt, record.lastReadingAt, ...record.results.map((one: { takenAt: string }) => one.takenAt)]) {
    expect(at).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$/)
  }
})

test.each(['/certificates/TS-2027-0147-M.json', '/certificates/TS-2027-0147-M.pdf', '/certificates/x.json', '/units/NONE-99/record.json'])(
  '%s is nothing, and says so by null',
  async (path) => {
    expect(await get(path)).toBeNull()
  },
)
