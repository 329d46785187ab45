import { execFileSync } from 'node:child_process'
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { flattenedVerify, importJWK } from 'jose'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { offlineProgram } from '../../app/(public)/certificates/[serial]/offline.rules'
import { certificateAddresses } from '../../server/certificates/certificates.address'
import { matchAddress } from '../../server/web/address'
import { openPdf, scanQr } from '../documents/read-pdf'
import { makeTestedUnit } from '../make/certified-unit'
import { openStage, type Stage } from '../stage'

let stage: Stage
let unit: Awaited<ReturnType<typeof makeTestedUnit>>
beforeAll(async () => {
  stage = openStage()
  unit = await makeTestedUnit(stage)
}, 60_000)
afterAll(() => stage.close())

async function get(path: string) {
  const url = new URL(path, 'http://house')
  const match = matchAddress(certificateAddresses, url.pathname)
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

test('the program on the certificate’s page checks the two files without the house, and finds one changed letter', async () => {
  const signed = await getJson(`/certificates/${unit.serial}.json`)
  // Beside this project's own libraries, so that the program finds jose as it would after npm install.
  const folder = join(import.meta.dirname, '..', '..', 'node_modules', '.vite-temp')
  execFileSync('mkdir', ['-p', folder])
  writeFileSync(join(folder, 'jwks.json'), JSON.stringify(await getJson('/.well-known/jwks.json')))
  writeFileSync(join(folder, 'check.mjs'), offlineProgram(unit.serial))
  const run = (content: object) => {
    writeFileSync(join(folder, `${unit.serial}.json`), JSON.stringify(content))
    return execFileSync(process.execPath, ['check.mjs'], { cwd: folder, encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] })
  }
  expect(run(signed)).toContain(`tag: '${unit.tag}'`)
  const changed = signed.payload.startsWith('eyJ') ? `eyI${signed.payload.slice(3)}` : ''
  expect(() => run({ ...signed, payload: changed })).toThrow(/signature verification failed/)
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
