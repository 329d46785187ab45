import { createHash, createPublicKey, verify } from 'node:crypto'
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { findCertificate } from '#bench/certificates/certificates.service'
import { flattened } from '#bench/certificates/jws.rules'
import { signatureHolds } from '#bench/certificates/signature'
import { listCertificates } from '#bench/certificates/standing.service'
import { readTotals } from '#end/packs/totals.service'
import { unpackHouse } from '#end/packs/unpack-house'
import { openZipReader } from '#end/packs/zip-reader'
import { answerOf, listAllBids } from '#sale/bids/bids.service'
import { checkHistory, signedHeads } from '#sale/history/check-history.rules'
import { isKeyOf } from '#sale/history/checkpoint.rules'
import type { History } from '#sale/history/history.contract'
import { faultOfReceipt } from '#sale/history/receipt.rules'
import { getLotRow, listLots } from '#sale/lots/lots.service'
import { codeFor } from '#test/make/code'
import { filesOf, MIGRATIONS, packInto } from '#test/make/packed'
import { openEndedHouse } from '#test/make/told-house'
import { openStage, type Stage } from '#test/stage'

const quiet = () => {}

let stage: Stage
let dir: string
let whole: string
let contents: Map<string, Buffer>
beforeAll(async () => {
  stage = await openEndedHouse()
  dir = mkdtempSync(join(tmpdir(), 'tagstrip-pack-'))
  whole = await packInto(join(dir, 'whole.zip'), stage)
  contents = await filesOf(whole)
}, 180_000)
afterAll(() => {
  stage.close()
  rmSync(dir, { recursive: true, force: true })
})

const textOf = (path: string): string => contents.get(path)?.toString('utf8') ?? ''

describe('a pack of a whole campaign', () => {
  test('does not stand there unless it says so: where its scratch copy of the house stays, that is said', async () => {
    const file = join(dir, 'stays.zip')
    const copy = `${file}.copy`
    const made = packInto(file, stage, true, undefined, ({ done, of }) => {
      if (done !== of) return
      // Nothing takes a folder away that is not empty, where a file was.
      rmSync(copy)
      mkdirSync(join(copy, 'within'), { recursive: true })
    })
    await expect(made).rejects.toThrow(`${copy} could not be taken away (`)
    expect(readdirSync(dir).filter((name) => name.startsWith('stays.zip'))).toEqual(['stays.zip.copy'])
  })

  test('is read back into an empty installation, and every view shows the same totals', async () => {
    const target = join(dir, 'read-back')
    await unpackHouse(whole, target, MIGRATIONS, quiet)
    const again = openStage({ now: stage.clock.now(), dir: target })
    expect(readTotals(again.sight())).toEqual(readTotals(stage.sight()))
    const books = async (of: Stage) => {
      const read = await (await of.as('treasurer')).books.all()
      return { ...read, statement: { ...read?.statement, at: 0 } }
    }
    expect(await books(again)).toEqual(await books(stage))
    again.close()
  }, 60_000)

  test('maxima, reserves and either-ors stand open in it, and sealed by the new house’s own key when it was read back', async () => {
    const target = join(dir, 'sealed-again')
    await unpackHouse(whole, target, MIGRATIONS, quiet)
    const again = openStage({ now: stage.clock.now(), dir: target })
    const figures = (of: Stage) => ({
      maxima: listAllBids(of.sight()).map(({ id, maximumMinor, nonce }) => [id, maximumMinor, nonce]),
      reserves: listLots(of.sight()).map(({ number }) => getLotRow(of.sight(), number).reserve),
      receipts: listAllBids(of.sight()).map((bid) => faultOfReceipt(answerOf(bid).receipt, bid.maximumMinor)),
    })
    expect(figures(again)).toEqual(figures(stage))
    expect(figures(stage).maxima.length).toBeGreaterThan(3)
    expect(new Set(figures(stage).receipts)).toEqual(new Set([null]))
    const rows = JSON.parse(textOf('tables/bid.json')) as { id: string; maximum_minor: number; nonce: string }[]
    expect(rows.map(({ id, maximum_minor, nonce }) => [id, maximum_minor, nonce]).sort()).toEqual(figures(stage).maxima.sort())
    const sealed = (of: Stage) => of.db.$client.prepare('SELECT sealed FROM bid ORDER BY id').pluck().all() as string[]
    expect(sealed(again).filter((one) => sealed(stage).includes(one))).toEqual([])
    again.close()
  }, 60_000)

  test('its histories and certificates hold in the new house, which signs with another key', async () => {
    const target = join(dir, 'verified')
    await unpackHouse(whole, target, MIGRATIONS, quiet)
    const again = openStage({ now: stage.clock.now(), dir: target })
    const { kid, jwks } = again.house.keys
    expect(kid).not.toBe(stage.house.keys.kid)
    expect(jwks().keys.map((key) => key.kid)).toEqual([stage.house.keys.kid, kid])
    const certificates = listCertificates(again.sight())
    expect(certificates.length).toBeGreaterThanOrEqual(6)
    for (const { serial } of certificates) {
      const row = findCertificate(again.sight(), serial)?.row
      expect(row && signatureHolds(flattened(row), jwks())).toBe(true)
    }
    for (const lot of [1, 2, 3]) {
      const history = (await again.visitor().bidding.history({ lot })) as History
      expect(checkHistory(history).filter(({ isSound }) => !isSound)).toEqual([])
      const [first] = signedHeads(history)
      const key = jwks().keys.find(({ x }) => first && isKeyOf(first, Buffer.from(x ?? '', 'base64url')))
      const publicKey = createPublicKey({ key: { kty: 'OKP', crv: 'Ed25519', x: key?.x ?? '' }, format: 'jwk' })
      for (const { text, signature } of signedHeads(history)) expect(verify(null, Buffer.from(text), publicKey, signature)).toBe(true)
    }
    again.close()
  }, 60_000)

  test('names every file with its length and digest, and every table with its rows', async () => {
    const { manifest } = await openZipReader(whole)
    for (const { path, bytes, sha256 } of manifest.files) {
      const body = contents.get(path) ?? Buffer.alloc(0)
      expect([path, body.byteLength, createHash('sha256').update(body).digest('hex')]).toEqual([path, bytes, sha256])
    }
    for (const [table, rows] of Object.entries(manifest.rows)) expect(JSON.parse(textOf(`tables/${table}.json`))).toHaveLength(rows)
    const paths = [...contents.keys()]
    for (const kind of [
      'csv/journal.csv',
      'csv/donors.csv',
      'csv/lots.csv',
      'papers/statement.pdf',
      'papers/invoices/lot-1.pdf',
      'histories/lot-1.json',
      'keys/public-keys.json',
      'tables/schema.sql',
      'README.txt',
    ])
      expect(paths).toContain(kind)
    expect(paths.filter((path) => path.startsWith('papers/certificates/'))).toHaveLength(
      paths.filter((path) => path.startsWith('certificates/')).length,
    )
    expect(paths.filter((path) => path.startsWith('photographs/')).length).toBe(readdirSync(join(stage.dir, 'photographs')).length)
  })

  test('holds no private key, no secret, no session and no sign-in code', async () => {
    const keys = join(stage.dir, 'keys')
    const secrets = readdirSync(keys).map((name) => readFileSync(join(keys, name), 'utf8').trim())
    await stage.visitor().people.askCode({ email: 'sunniva@bidder.example' })
    const code = codeFor(stage, 'sunniva@bidder.example')
    const sealedCodes = stage.letters().flatMap(({ sealedCode }) => sealedCode ?? [])
    expect(sealedCodes).not.toEqual([])
    const packed = await filesOf(await packInto(join(dir, 'with-a-code.zip'), stage))
    const tokens = stage.db.$client.prepare('SELECT token FROM session').pluck().all() as string[]
    for (const [path, body] of packed) {
      const text = body.toString('latin1')
      for (const secret of [...secrets, ...tokens, ...sealedCodes, `${code} is your code`, 'PRIVATE KEY'])
        expect(`${path} holds a secret: ${text.includes(secret)}`).toBe(`${path} holds a secret: false`)
    }
  }, 60_000)
})
