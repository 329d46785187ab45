import { randomBytes } from 'node:crypto'
import { copyFileSync, cpSync, existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { openDatabase } from '#db/open'
import { design, run, unit } from '#db/schema/index'
import { openAnswer } from '#runtime/queue/kept-answer'
import { answerOf, findBid, listBidsOfLot } from '#sale/bids/bids.service'
import { loadOpenedLot } from '#sale/bids/lot-state.service'
import { listEitherOrsOf, listLinks } from '#sale/either-or/either-or.service'
import { reserveCommitmentTo } from '#sale/history/ledger.rules'
import { getLotRow } from '#sale/lots/lots.service'
import { openStage } from '#test/stage'

// A house of an earlier step of the database, in which maxima and reserves lie open, is opened by this program.

const MIGRATIONS = join(import.meta.dirname, '..', '..', '..', 'db', 'migrations')
/** So large that the bytes of their numbers stand nowhere by chance. */
const LEADER = 73_193_931_753
const SECOND = 61_739_193_157
const RESERVE = 57_391_931_739
const DRAFT = 53_197_391_931
const LINK = 49_319_739_113
const CAP = 97_319_391_751
const GONE = 91_739_197_333
const FIGURES = { LEADER, SECOND, RESERVE, DRAFT, LINK, CAP, GONE }
const NONCES = [1, 2, 3].map(() => randomBytes(32).toString('hex'))
const [NONCE = '', SECOND_NONCE = '', RESERVE_NONCE = ''] = NONCES

let dir: string
beforeEach(() => {
  dir = mkdtempSync(join(tmpdir(), 'tagstrip-earlier-'))
})
afterEach(() => rmSync(dir, { recursive: true, force: true }))

const answer = (maximumMinor: number, nonce: string, sequence: number) => ({
  lot: 1,
  alias: `A${sequence}`,
  maximumMinor,
  leads: true,
  standingMinor: 2000,
  reserve: 'unreached',
  closesAt: 9,
  receipt: { index: sequence, opening: { lot: 1, alias: `A${sequence}`, sequence, amountMinor: maximumMinor, nonce } },
})

/** Writes the house as the program of then left it, without a migration from 0040 on. */
function makeEarlierHouse(): void {
  const steps = join(dir, 'steps')
  mkdirSync(steps)
  for (const name of readdirSync(MIGRATIONS)) if (name < '0040') cpSync(join(MIGRATIONS, name), join(steps, name))
  const { db, handle } = openDatabase(join(dir, 'tagstrip.db'), steps, {})
  const terms = JSON.stringify({
    currency: 'GBP',
    openingMinor: 2000,
    reserveMinor: RESERVE,
    ladder: [{ fromMinor: 0, stepMinor: 500 }],
    origin: 'h/1',
    sale: {},
  })
  const insert = (sql: string, ...values: unknown[]) => handle.prepare(sql).run(...values)
  for (const id of ['p1', 'p2'])
    insert(
      `INSERT INTO person (id, email, name, role, created_at, updated_at, email_verified) VALUES (?, ?, ?, 'bidder', 1, 1, 1)`,
      id,
      `${id}@bidder.example`,
      id,
    )
  const made = {
    key: 'salt',
    name: 'Saltmarsh',
    revision: '3',
    decisionRule: 'simple',
    digest: '0'.repeat(64),
    quirks: '',
    cautions: '',
  } as const
  db.insert(design)
    .values({ ...made, id: 'd', at: 1, byPersonId: 'p1' })
    .run()
  db.insert(run).values({ id: 'r', at: 1, designId: 'd', tagPrefix: 'TERN' }).run()
  for (const number of [1, 2, 3])
    db.insert(unit)
      .values({ id: `u${number}`, at: 1, tag: `TERN-0${number}`, runId: 'r', number })
      .run()
  insert(
    `INSERT INTO lot (id, number, unit_id, unit_tag, opening_minor, reserve_decided, reserve_minor, state, closes_at, opened_at, terms,
      leader_alias, leader_person_id, leader_maximum_minor, leader_sequence, second_alias, second_maximum_minor, second_sequence, standing_minor, bids, sequence)
     VALUES ('l1', 1, 'u1', 'TERN-01', 2000, 1, ?, 'open', 9, 1, ?, 'A2', 'p2', ?, 2, 'A1', ?, 1, 5000, 2, 2)`,
    RESERVE,
    terms,
    LEADER,
    SECOND,
  )
  insert(`INSERT INTO lot (id, number, unit_id, unit_tag, reserve_decided, reserve_minor) VALUES ('l2', 2, 'u2', 'TERN-02', 1, ?)`, DRAFT)
  insert(`INSERT INTO lot (id, number, unit_id, unit_tag) VALUES ('l3', 3, 'u3', 'TERN-03')`)
  insert(`INSERT INTO reserve_secret VALUES ('l1', ?, ?)`, RESERVE, RESERVE_NONCE)
  insert(`INSERT INTO lot_extra (lot_id, seq, words) VALUES ('l1', 0, 'A booklet')`)
  const bid = (id: string, sequence: number, maximum: number, nonce: string) =>
    insert(
      'INSERT INTO bid VALUES (?, ?, ?, ?, ?, ?, 5, ?, ?)',
      id,
      'l1',
      sequence,
      `p${sequence}`,
      `A${sequence}`,
      maximum,
      nonce,
      JSON.stringify(answer(maximum, nonce, sequence)),
    )
  bid('the-first-bid-of-it', 1, SECOND, SECOND_NONCE)
  bid('the-second-bid-of-it', 2, LEADER, NONCE)
  insert(`INSERT INTO chain VALUES ('c1', 'p1', 1, ?, 3)`, CAP)
  insert(`INSERT INTO chain_link (chain_id, place, lot_id, maximum_minor) VALUES ('c1', 1, 'l1', ?)`, LINK)
  insert(
    `INSERT INTO chain_link (chain_id, place, lot_id, maximum_minor, phase, why) VALUES ('c1', 2, 'l2', ?, 'lapsed', ?)`,
    LINK,
    `Your cap of ${CAP} could be passed.`,
  )
  insert(
    `INSERT INTO letter (id, at, recipient, subject, body, next_try_at) VALUES ('w', 1, 'p1@bidder.example', 'Lapsed', ?, 1)`,
    `It lapsed: Your cap of ${CAP} could be passed. Look at it.`,
  )
  insert('INSERT INTO request VALUES (?, ?, ?, 4)', 'a-form-that-was-sent', 'd'.repeat(64), JSON.stringify({ maximumMinor: LINK }))
  // What stood in a row that is gone lies in a free page.
  insert(
    'INSERT INTO request VALUES (?, ?, ?, 4)',
    'another-form',
    'd'.repeat(64),
    JSON.stringify({ maximumMinor: GONE, padding: 'x'.repeat(9000) }),
  )
  handle.exec(`DELETE FROM request WHERE key = 'another-form'`)
  handle.pragma('wal_checkpoint(TRUNCATE)')
  handle.close()
  rmSync(steps, { recursive: true })
}

/** Which of the planted figures a file shows, in digits or in the bytes of a number, and which random bytes. */
function foundIn(file: string): string[] {
  if (!existsSync(file)) return []
  const bytes = readFileSync(file)
  const figures = Object.entries(FIGURES).filter(([, figure]) => {
    const number = Buffer.alloc(6)
    number.writeUIntBE(figure, 0, 6)
    return bytes.includes(String(figure)) || bytes.includes(number)
  })
  return [...figures.map(([name]) => name), ...NONCES.filter((nonce) => bytes.includes(nonce) || bytes.includes(Buffer.from(nonce, 'hex')))]
}

test('what lay open is sealed, each opens to what it was, and neither file nor log nor backup shows any of it', async () => {
  makeEarlierHouse()
  const file = join(dir, 'tagstrip.db')
  expect(foundIn(file).sort()).toEqual([...Object.keys(FIGURES), ...NONCES].sort())

  const stage = openStage({ dir })
  try {
    const sight = stage.sight()
    expect(getLotRow(sight, 1).reserve).toEqual({ amountMinor: RESERVE, nonce: RESERVE_NONCE })
    expect(getLotRow(sight, 1).terms).not.toHaveProperty('reserveMinor')
    expect(getLotRow(sight, 2).reserve?.amountMinor).toBe(DRAFT)
    expect(getLotRow(sight, 2).reserve?.nonce).toMatch(/^[0-9a-f]{64}$/)
    expect(getLotRow(sight, 3).reserve).toBeNull()
    expect(reserveCommitmentTo(2, DRAFT, getLotRow(sight, 2).reserve?.nonce ?? '')).toHaveLength(64)
    expect(listBidsOfLot(sight, 'l1').map(({ maximumMinor, nonce }) => [maximumMinor, nonce])).toEqual([
      [SECOND, SECOND_NONCE],
      [LEADER, NONCE],
    ])
    const bid = findBid(sight, 'the-second-bid-of-it')
    expect(bid && answerOf(bid)).toEqual(answer(LEADER, NONCE, 2))
    expect(loadOpenedLot(sight, 1).state).toMatchObject({
      terms: { reserveMinor: RESERVE },
      leader: { bidder: 'A2', maximumMinor: LEADER, sequence: 2 },
      second: { bidder: 'A1', maximumMinor: SECOND, sequence: 1 },
    })
    expect(listEitherOrsOf(sight, 'p1').map(({ capMinor }) => capMinor)).toEqual([CAP])
    expect(listLinks(sight, 'c1').map(({ maximumMinor, why }) => [maximumMinor, why])).toEqual([
      [LINK, null],
      [LINK, 'Your cap could be passed.'],
    ])
    expect(stage.letters().map(({ body }) => body)).toEqual(['It lapsed: Your cap could be passed. Look at it.'])
    const kept = stage.db.$client.prepare('SELECT key, digest, answer FROM request').get() as {
      key: string
      digest: string
      answer: string
    }
    expect(JSON.parse(openAnswer(sight.keys, kept.key, JSON.parse(kept.answer) as string))).toEqual({ maximumMinor: LINK })
    expect(kept.digest).not.toBe('d'.repeat(64))
    expect(stage.db.$client.prepare('SELECT words FROM lot_extra').pluck().all()).toEqual(['A booklet'])
    const backup = join(dir, 'backup.db')
    await stage.db.$client.backup(backup)
    for (const one of [file, `${file}-wal`, backup]) expect([one, foundIn(one)]).toEqual([one, []])
  } finally {
    stage.house.close()
  }
  expect(foundIn(file)).toEqual([])
})

test('a file that could not be written anew, since somebody was reading, is written anew at the next start', () => {
  makeEarlierHouse()
  const file = join(dir, 'tagstrip.db')
  const reader = new Database(file)
  reader.exec('BEGIN; SELECT count(*) FROM lot')
  reader.prepare('SELECT count(*) FROM lot').get()
  const first = openStage({ dir })
  expect(first.db.$client.pragma('user_version', { simple: true })).toBe(1)
  first.house.close()
  reader.close()
  const second = openStage({ dir })
  expect(second.db.$client.pragma('user_version', { simple: true })).toBe(0)
  second.house.close()
  expect([...foundIn(file), ...foundIn(`${file}-wal`)]).toEqual([])
})

test('a house whose key is missing or another one does not open, says what to do, and makes none in its place', () => {
  const first = openStage({ dir })
  first.house.close()
  const secret = join(dir, 'keys', 'seal.secret')
  const aside = join(dir, 'aside')
  copyFileSync(secret, aside)
  rmSync(secret)
  expect(() => openStage({ dir })).toThrow(/is missing: .*seal\.secret\. .*Put the file back from the folder "keys" of a backup/s)
  expect(existsSync(secret)).toBe(false)
  const other = mkdtempSync(join(tmpdir(), 'tagstrip-other-'))
  openStage({ dir: other }).house.close()
  copyFileSync(join(other, 'keys', 'seal.secret'), secret)
  rmSync(other, { recursive: true })
  expect(() => openStage({ dir })).toThrow(/sealed by another key than the one in/)
  copyFileSync(aside, secret)
  openStage({ dir }).house.close()
})
