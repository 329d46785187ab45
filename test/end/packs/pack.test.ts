import { createHash, createPublicKey, verify } from 'node:crypto'
import { cpSync, existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { findCertificate } from '#bench/certificates/certificates.service'
import { flattened } from '#bench/certificates/jws.rules'
import { signatureHolds } from '#bench/certificates/signature'
import { listCertificates } from '#bench/certificates/standing.service'
import { PACK_VERSION } from '#end/packs/manifest.contract'
import { packHouse } from '#end/packs/pack-house'
import { readTotals } from '#end/packs/totals.service'
import { unpackHouse } from '#end/packs/unpack-house'
import { openZipReader, type ZipReader } from '#end/packs/zip-reader'
import { openZipWriter } from '#end/packs/zip-writer'
import { PACK_MEANS } from '#house/open/pack-means'
import { DAY } from '#kernel/instant'
import { checkHistory, signedHeads } from '#sale/history/check-history.rules'
import { isKeyOf } from '#sale/history/checkpoint.rules'
import type { History } from '#sale/history/history.contract'
import { openEndedHouse } from '#test/make/told-house'
import { openStage, type Stage } from '#test/stage'

const migrations = join(import.meta.dirname, '..', '..', '..', 'db', 'migrations')
const quiet = () => {}

let stage: Stage
let dir: string
let whole: string
let contents: Map<string, Buffer>
beforeAll(async () => {
  stage = await openEndedHouse()
  dir = mkdtempSync(join(tmpdir(), 'tagstrip-pack-'))
  whole = await packNow('whole.zip')
  contents = await everyFile(whole)
}, 180_000)
afterAll(() => {
  stage.close()
  rmSync(dir, { recursive: true, force: true })
})

async function packNow(name: string, withContacts = true): Promise<string> {
  const { kid, jwks } = stage.house.keys
  const file = join(dir, name)
  const reader = await stage.actor('maker')
  const question = { dataDir: stage.dir, migrationsDir: migrations, file, at: stage.clock.now(), publicUrl: 'https://bench.example' }
  await packHouse({ ...question, jwks: jwks(), kid, reader, withContacts }, PACK_MEANS)
  return file
}

async function everyFile(file: string): Promise<Map<string, Buffer>> {
  const reader = await openZipReader(file)
  const read = new Map<string, Buffer>()
  for (const { path } of reader.manifest.files) read.set(path, await reader.read(path))
  reader.close()
  return read
}

const textOf = (path: string): string => contents.get(path)?.toString('utf8') ?? ''

/** The same pack written again, with a manifest that says something else. */
async function withManifest(name: string, change: Partial<Omit<ZipReader['manifest'], 'version'>> & { version?: number }): Promise<string> {
  const reader = await openZipReader(whole)
  const file = join(dir, name)
  const zip = openZipWriter(file, new Date(stage.clock.now()))
  for (const { path } of reader.manifest.files) await zip.add(path, await reader.read(path))
  const { files: _files, ...manifest } = reader.manifest
  reader.close()
  await zip.finish({ ...manifest, ...change } as typeof manifest)
  return file
}

describe('a pack of a whole campaign', () => {
  test('is read back into an empty installation, and every view shows the same totals', async () => {
    const target = join(dir, 'read-back')
    await unpackHouse(whole, target, migrations, quiet)
    const again = openStage({ now: stage.clock.now(), dir: target })
    expect(readTotals(again.sight())).toEqual(readTotals(stage.sight()))
    const books = async (of: Stage) => {
      const read = await (await of.as('treasurer')).money.books()
      return { ...read, statement: { ...read?.statement, at: 0 } }
    }
    expect(await books(again)).toEqual(await books(stage))
    again.close()
  }, 60_000)

  test('its histories and certificates hold in the new house, which signs with another key', async () => {
    const target = join(dir, 'verified')
    await unpackHouse(whole, target, migrations, quiet)
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
      expect(checkHistory(history).filter(({ holds }) => !holds)).toEqual([])
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
    const code = /^(\d{6}) is your code/.exec(stage.letters().at(-1)?.body ?? '')?.[1] ?? 'no code'
    expect(code).toMatch(/^\d{6}$/)
    const packed = await everyFile(await packNow('with-a-code.zip'))
    const tokens = stage.db.$client.prepare('SELECT token FROM session').pluck().all() as string[]
    for (const [path, body] of packed) {
      const text = body.toString('latin1')
      for (const secret of [...secrets, ...tokens, `${code} is your code`, 'PRIVATE KEY'])
        expect(`${path} holds a secret: ${text.includes(secret)}`).toBe(`${path} holds a secret: false`)
    }
  }, 60_000)
})

describe('what is refused, whole and in words', () => {
  const refusal = async (file: string, target = join(dir, 'never')): Promise<string> => {
    try {
      await unpackHouse(file, target, migrations, quiet)
      return 'it was taken'
    } catch (reason) {
      expect(existsSync(join(dir, 'never'))).toBe(false)
      expect(existsSync(`${target}.unpacking`)).toBe(false)
      return reason instanceof Error ? reason.message : String(reason)
    }
  }

  test('one changed byte anywhere, naming the file that it is in', async () => {
    const bytes = readFileSync(whole)
    const file = join(dir, 'changed.zip')
    const journal = bytes.indexOf('csv/journal.csv') + 'csv/journal.csv'.length + 20
    const places = [journal, ...Array.from({ length: 23 }, (_, n) => Math.floor(((n + 0.5) * bytes.length) / 23)), bytes.length - 1, 10, 40]
    for (const place of places) {
      const changed = Buffer.from(bytes)
      changed[place] = (changed[place] ?? 0) ^ 1
      writeFileSync(file, changed)
      expect(`${place}: ${await refusal(file)}`).toMatch(/damaged|cannot be read as a ZIP/)
      if (place === journal) expect(await refusal(file)).toBe('The pack is damaged: csv/journal.csv is not what was written.')
    }
  }, 120_000)

  test('a pack cut short, and what is no pack', async () => {
    const short = join(dir, 'short.zip')
    writeFileSync(short, readFileSync(whole).subarray(0, 5000))
    expect(await refusal(short)).toContain('cannot be read as a ZIP archive')
    const other = openZipWriter(join(dir, 'other.zip'), new Date(0))
    await other.add('hello.txt', 'hello')
    await other.finish({} as Parameters<typeof other.finish>[0])
    expect(await refusal(join(dir, 'other.zip'))).toContain('This archive is no pack')
    expect(await refusal(join(dir, 'nothing.zip'))).toContain('There is no file')
  })

  test('a later version of the format, and a database of a later program', async () => {
    expect(await refusal(await withManifest('later.zip', { version: PACK_VERSION + 1 }))).toBe(
      'The pack is of version 2 of its format; this program reads up to version 1. Read it with a newer program.',
    )
    expect(await refusal(await withManifest('later-steps.zip', { schema: '9999-what-comes.sql' }))).toContain('Update the program first')
  }, 60_000)

  test('a pack whose rows or totals are not those of its manifest', async () => {
    const { manifest } = await openZipReader(whole)
    const fewer = { ...manifest.rows, entry: (manifest.rows.entry ?? 0) - 1 }
    expect(await refusal(await withManifest('rows.zip', { rows: fewer }))).toContain('tables/entry.json has')
    const richer = { ...manifest.totals, 'proceeds countedMinor': Number(manifest.totals['proceeds countedMinor']) + 1 }
    expect(await refusal(await withManifest('totals.zip', { totals: richer }))).toContain('does not show the same: proceeds countedMinor')
  }, 60_000)

  test('a house that lives there already; one that was only opened once makes way and keeps its key', async () => {
    const target = join(dir, 'lives')
    mkdirSync(target)
    cpSync(join(stage.dir, 'tagstrip.db'), join(target, 'tagstrip.db'))
    expect(await refusal(whole, target)).toContain('There is a house in')
    const fresh = openStage({ dir: join(dir, 'fresh') })
    const { kid } = fresh.house.keys
    fresh.house.close()
    await unpackHouse(whole, fresh.dir, migrations, quiet)
    const again = openStage({ dir: fresh.dir, now: stage.clock.now() })
    expect(again.house.keys.kid).toBe(kid)
    again.close()
  }, 60_000)
})

/** Where any of these stands in a house: every cell of text of every table, and every byte of its files. */
function whereStands(addresses: readonly string[], dataDir: string): string[] {
  const handle = new Database(join(dataDir, 'tagstrip.db'), { readonly: true })
  const tables = handle
    .prepare("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'")
    .pluck()
    .all() as string[]
  const cells = tables.flatMap((table) =>
    handle
      .prepare(`SELECT * FROM "${table}"`)
      .all()
      .flatMap((row) =>
        Object.entries(row as Record<string, unknown>)
          .filter(([, value]) => typeof value === 'string' && addresses.some((address) => value.includes(address)))
          .map(([column]) => `${table}.${column}`),
      ),
  )
  handle.close()
  const bytes = readdirSync(dataDir)
    .filter((name) => name.startsWith('tagstrip.db'))
    .filter((name) => addresses.some((address) => readFileSync(join(dataDir, name)).includes(address)))
  return [...new Set([...cells, ...bytes])]
}

describe('contact data', () => {
  test('is deleted after its term from every table and from the file, and everything still comes out', async () => {
    const maker = await stage.as('maker')
    const sunniva = (await stage.actor('bidder', 'Sunniva Aune')).email
    stage.db.$client
      .prepare("UPDATE gift_change SET reason = 'Ask ' || ? || ' again' WHERE id = (SELECT min(id) FROM gift_change)")
      .run(sunniva)
    const handle = stage.db.$client
    const buyer = handle.prepare('SELECT winner_person_id AS id, id AS lot FROM lot WHERE number = 1').get() as { id: string; lot: string }
    handle
      .prepare(
        "INSERT OR REPLACE INTO delivery_address (lot_id, person_id, name, street, place, postcode, country, telephone, at) VALUES (?, ?, 'S. Aune', '9 Ropewalk Steps', 'Marhavn', '0114', 'NO', '+47 555 01 44', 1)",
      )
      .run(buyer.lot, buyer.id)
    handle
      .prepare(
        "INSERT INTO bank_line (id, digest, twin, seq, value_on, amount_minor, words, name, reference, file, line, read_at) VALUES ('b1', ?, 0, 9999, '2027-03-14', 100, 'From 9 Ropewalk Steps', 'S. Aune', 'RF1', 'march.csv', 2, 1)",
      )
      .run('0'.repeat(64))
    const known = ['9 Ropewalk Steps', '+47 555 01 44', 'S. Aune']
    const mails = stage.db.$client
      .prepare("SELECT email FROM person WHERE role = 'bidder' UNION SELECT contact FROM donor WHERE contact <> ''")
      .pluck()
      .all() as string[]
    const addresses = [...known, ...mails]
    expect(addresses.length).toBeGreaterThan(6)
    const without = await everyFile(await packNow('without.zip', false))
    for (const [path, body] of without) expect(`${path}: ${addresses.filter((address) => body.includes(address)).join()}`).toBe(`${path}: `)
    const before = { ...readTotals(stage.sight()) }
    const photographs = readdirSync(join(stage.dir, 'photographs')).length

    await expect(
      maker.deletion.deleteContacts({ typed: 'Long Bench Day', shown: (await maker.deletion.contacts()).shown }),
    ).rejects.toThrow('The term is not over')
    stage.clock.pass(91 * DAY)
    const seen = await maker.deletion.contacts()
    expect(seen.bidders.map(({ mail }) => mail)).toEqual(expect.arrayContaining(addresses.filter((address) => address.includes('@bidder'))))
    await expect(maker.deletion.deleteContacts({ typed: 'yes', shown: seen.shown })).rejects.toThrow('Type the campaign’s name')
    await expect(maker.deletion.deleteContacts({ typed: 'Long Bench Day', shown: 'what was there before' })).rejects.toThrow(
      'has changed since you looked',
    )
    const { counts } = await maker.deletion.deleteContacts({ typed: 'Long Bench Day', shown: seen.shown })
    expect(counts).toMatchObject({ 'mail addresses of bidders': seen.bidders.length, 'addresses that stood in other texts': 1 })

    expect(whereStands(addresses, stage.dir)).toEqual([])
    expect(readdirSync(join(stage.dir, 'photographs')).length).toBeLessThan(photographs)
    const after = readTotals(stage.sight())
    expect(after).toEqual(before)
    expect((await maker.deletion.contacts()).steps).toEqual([])
    expect((await stage.visitor().credits.all())?.all.names.length).toBeGreaterThan(3)
    const { serial } = listCertificates(stage.sight())[0] ?? { serial: '' }
    const row = findCertificate(stage.sight(), serial)?.row
    expect(row && signatureHolds(flattened(row), stage.house.keys.jwks())).toBe(true)
  }, 120_000)
})
