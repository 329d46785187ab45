import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { copyForRehearsal } from '#house/rehearsal/copy'
import { EMPTIED, KEPT } from '#house/rehearsal/kept-tables.rules'
import { HOUR, MINUTE } from '#kernel/instant'
import { openSealing } from '#runtime/disk/keys'
import { ofReserve, openFigure } from '#sale/lots/sealed-figures'
import { makeBidder, makeOpenLot, makePreparedLot } from '#test/make/lot'
import { NOON, openStage, type Stage } from '#test/stage'

// What a rehearsal is given of a house: nothing that is sealed, and nobody who bids.

/** Amounts that stand nowhere else, in pounds as they are typed; the house keeps them in pence. */
const RESERVES = ['731.93', '617.39']
const MAXIMA = ['743.87', '749.21', '757.43']
const SEALED = [...RESERVES, ...MAXIMA].flatMap((amount) => [amount, amount.replace('.', '')])

let stage: Stage
let into: string
let copy: Database.Database
beforeEach(async () => {
  stage = openStage()
  into = mkdtempSync(join(tmpdir(), 'tagstrip-sealed-copy-'))
  await makeOpenLot(stage, { closesIn: HOUR, form: { reserveKind: 'amount', reserve: RESERVES[0] } })
  await makeOpenLot(stage, { tag: 'TERN-04', closesIn: MINUTE })
  await makePreparedLot(stage, { tag: 'TERN-05', closesIn: 2 * HOUR, form: { reserveKind: 'amount', reserve: RESERVES[1] } })
  await (await makeBidder(stage, 'Ada')).bid(1, MAXIMA[0] ?? '')
  const links = [
    { lot: 2, maximum: MAXIMA[1] ?? '' },
    { lot: 1, maximum: MAXIMA[2] ?? '' },
  ]
  await (await makeBidder(stage, 'Ben')).caller.eitherOr.make({ key: 'either-or-of-ben-1', links, mostWins: 1, cap: '' })
  const maker = await stage.actor('maker')
  await stage.house.signIn.openSession(maker.personId, 'Firefox on Linux')
  await stage.command((turn) => turn.post({ to: maker.email, subject: 'Word', body: `Your maximum of ${MAXIMA[0]}` }))
  stage.house.db.run("INSERT INTO request (key, digest, answer, at) VALUES ('k', 'd', '{\"maximum\":74387}', 1)")
  await copyForRehearsal(stage.dir, into, NOON)
  copy = new Database(join(into, 'tagstrip.db'))
})
afterEach(() => {
  copy.close()
  stage.close()
  rmSync(into, { recursive: true, force: true })
})

const rows = (table: string) => copy.prepare(`SELECT * FROM "${table}"`).all() as Record<string, unknown>[]

test('every table of the schema is named, either as kept or as emptied', () => {
  const tables = copy
    .prepare("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name")
    .pluck()
    .all()
  expect([...KEPT, ...Object.keys(EMPTIED)].sort()).toEqual(tables)
})

test('what is named as emptied is empty, but for the instant before which no day begins', () => {
  for (const table of Object.keys(EMPTIED).filter((name) => name !== 'fact')) expect([table, rows(table)]).toEqual([table, []])
  expect(rows('fact')).toMatchObject([{ at: NOON, kind: 'rehearsal.copied', body: '{}' }])
})

test('no reserve and no maximum stands in any file of it, in no free page either', () => {
  const files = (dir: string): string[] =>
    readdirSync(dir).flatMap((name) => (statSync(join(dir, name)).isDirectory() ? files(join(dir, name)) : [join(dir, name)]))
  const house =
    readFileSync(join(stage.dir, 'tagstrip.db')).toString('latin1') + readFileSync(join(stage.dir, 'tagstrip.db-wal')).toString('latin1')
  // What is planted in a letter lies open in the house.
  expect(house).toContain(`Your maximum of ${MAXIMA[0]}`)
  for (const file of files(into)) {
    const text = readFileSync(file).toString('latin1')
    expect(SEALED.filter((amount) => text.includes(amount))).toEqual([])
  }
  // An integer is kept as bytes, so columns are read as well.
  const tables = copy.prepare("SELECT name FROM sqlite_schema WHERE type = 'table'").pluck().all() as string[]
  for (const table of tables)
    for (const row of rows(table)) for (const value of Object.values(row)) expect(SEALED).not.toContain(String(value))
})

test('nobody who can bid comes along, the staff do, and every row still finds what it refers to', () => {
  expect(new Set(rows('person').map(({ role }) => role))).toEqual(new Set(['maker']))
  expect(copy.pragma('foreign_key_check')).toEqual([])
})

test('lots stand as before their opening, with a made-up reserve where they have one', () => {
  const [first, second, third] = rows('lot').sort((a, b) => Number(a.number) - Number(b.number))
  const reserveOf = (row: Record<string, unknown> = {}) =>
    openFigure(openSealing(join(into, 'keys')), ofReserve(Number(row.number)), String(row.sealed_reserve)).amountMinor
  expect(first).toMatchObject({ state: 'ready', terms: null, standing_minor: null, bids: 0, ledger_size: 0 })
  expect(reserveOf(first)).toBe(7000)
  expect(second).toMatchObject({ state: 'ready', sealed_reserve: null })
  expect(third).toMatchObject({ state: 'draft' })
  expect(reserveOf(third)).toBe(7000)
})

test('a lot that has ended keeps its result, and not whose it was nor its reserve', async () => {
  await (await stage.as('maker')).bidding.withdraw({ lot: 1, reason: 'It fell.' })
  rmSync(into, { recursive: true })
  await copyForRehearsal(stage.dir, into, NOON)
  const again = new Database(join(into, 'tagstrip.db'))
  const lot = again.prepare('SELECT * FROM lot WHERE number = 1').get() as Record<string, unknown>
  expect(lot).toMatchObject({ state: 'withdrawn', sealed_reserve: null, leader_person_id: null, leader_sequence: null })
  expect(JSON.parse(String(lot.terms))).not.toHaveProperty('reserveMinor')
  again.close()
})

test('a lot whose clock is held closes later by as long as it has been held', async () => {
  const before = stage.db.$client.prepare('SELECT closes_at FROM lot WHERE number = 1').pluck().get() as number
  await (await stage.as('host')).programme.holdAll({ reason: 'The stream is lost.' })
  rmSync(into, { recursive: true })
  await copyForRehearsal(stage.dir, into, NOON + 10 * MINUTE)
  const again = new Database(join(into, 'tagstrip.db'))
  const lot = again.prepare('SELECT state, closes_at FROM lot WHERE number = 1').get()
  expect(lot).toEqual({ state: 'ready', closes_at: before + 10 * MINUTE })
  again.close()
})
