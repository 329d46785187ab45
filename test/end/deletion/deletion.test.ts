import { createHash } from 'node:crypto'
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest'
import { findCertificate } from '#bench/certificates/certificates.service'
import { flattened } from '#bench/certificates/jws.rules'
import { signatureHolds } from '#bench/certificates/signature'
import { listCertificates } from '#bench/certificates/standing.service'
import { ALL_GOES } from '#end/deletion/contact-data.rules'
import { deleteContactsFrom } from '#end/deletion/contact-data.service'
import { readTotals } from '#end/packs/totals.service'
import { DAY } from '#kernel/instant'
import { findSheet, keepSheets } from '#money/documents/papers.service'
import { filesOf } from '#test/make/packed'
import { openEndedHouse } from '#test/make/told-house'
import type { Stage } from '#test/stage'

let stage: Stage
beforeAll(async () => {
  stage = await openEndedHouse()
}, 180_000)
afterAll(() => stage.close())

/** A pack that is made as from its page, and kept in the house; answers the name of its file. */
async function packHere(withContacts: boolean): Promise<string> {
  const { packs } = await stage.as('maker')
  await packs.start({ withContacts })
  await vi.waitFor(async () => expect((await packs.all()).present?.state).toBe('done'), { timeout: 60_000, interval: 50 })
  const fileName = (await packs.all()).present?.fileName ?? ''
  stage.clock.pass(1000)
  return fileName
}

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
    const [withThem, withoutThem] = [await packHere(true), await packHere(false)]
    const without = await filesOf(stage.house.packer.find(withoutThem) ?? '')
    for (const [path, body] of without) expect(`${path}: ${addresses.filter((address) => body.includes(address)).join()}`).toBe(`${path}: `)
    const before = { ...readTotals(stage.sight()) }
    const photographs = readdirSync(join(stage.dir, 'photographs')).length
    expect((await maker.deletion.copies()).packs).toEqual([withThem])

    await expect(
      maker.deletion.deleteContacts({ typed: 'Long Bench Day', shown: (await maker.deletion.contacts()).shown }),
    ).rejects.toThrow('The time is not up yet')
    stage.clock.pass(91 * DAY)
    const seen = await maker.deletion.contacts()
    expect(seen.bidders.map(({ mail }) => mail)).toEqual(expect.arrayContaining(addresses.filter((address) => address.includes('@bidder'))))
    await expect(maker.deletion.deleteContacts({ typed: 'yes', shown: seen.shown })).rejects.toThrow('Type the campaign’s name')
    await expect(maker.deletion.deleteContacts({ typed: 'Long Bench Day', shown: 'what was there before' })).rejects.toThrow(
      'has changed since you looked',
    )
    const { counts } = await maker.deletion.deleteContacts({ typed: 'Long Bench Day', shown: seen.shown })
    expect(counts).toMatchObject({ 'email addresses of bidders': seen.bidders.length, 'addresses that stood in other texts': 1 })

    expect(whereStands(addresses, stage.dir)).toEqual([])
    expect(readdirSync(join(stage.dir, 'photographs')).length).toBeLessThan(photographs)
    const after = readTotals(stage.sight())
    expect(after).toEqual(before)
    expect((await maker.deletion.contacts()).steps).toEqual([])
    expect((await maker.deletion.copies()).packs).toEqual([])
    expect((await maker.packs.all()).packs.map(({ fileName, isHere }) => [fileName, isHere])).toEqual([
      [withoutThem, true],
      [withThem, false],
    ])
    expect((await stage.visitor().credits.all())?.all.names.length).toBeGreaterThan(3)
    const { serial } = listCertificates(stage.sight())[0] ?? { serial: '' }
    const row = findCertificate(stage.sight(), serial)?.row
    expect(row && signatureHolds(flattened(row), stage.house.keys.jwks())).toBe(true)
  }, 120_000)
})

describe('an invoice that was issued', () => {
  test('keeps its address when contact data is deleted; a pack without contact data has it without', async () => {
    const treasurer = await stage.as('treasurer')
    const [one] = (await treasurer.documents.desk()).waiting
    const lots = one?.lots.map(({ lot }) => lot) ?? []
    const street = '77 Invoice Row'
    const { number } = await treasurer.documents.issue({
      key: 'the invoice of a deletion',
      lots,
      name: 'A. Buyer',
      address: `${street}\nHarbour`,
    })
    await keepSheets({ sight: stage.sight, command: stage.command, print: stage.house.press.print })
    const kept = () => findSheet(stage.sight(), number)?.sha256
    const before = kept()
    const [withThem, without] = [
      await filesOf(stage.house.packer.find(await packHere(true)) ?? ''),
      await filesOf(stage.house.packer.find(await packHere(false)) ?? ''),
    ]
    const sheet = `papers/invoices/no-${String(number).padStart(4, '0')}.pdf`
    expect(
      createHash('sha256')
        .update(withThem.get(sheet) ?? '')
        .digest('hex'),
    ).toBe(before)
    expect(without.get(sheet)?.byteLength).toBeGreaterThan(1000)
    for (const [path, body] of without) expect(`${path} ${body.includes(street)}`).toBe(`${path} false`)
    expect(withThem.get('tables/invoice_document.json')?.includes(street)).toBe(true)
    await stage.command((turn) => deleteContactsFrom(turn.db, ALL_GOES))
    expect(kept()).toBe(before)
    expect(stage.db.$client.prepare('SELECT content FROM invoice_document WHERE number = ?').pluck().get(number)).toContain(street)
  }, 120_000)
})
