import { sql } from 'drizzle-orm'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { DAY, MINUTE } from '#kernel/instant'
import { damageOf } from '#sale/bids/kept-right.service'
import { findLot } from '#sale/lots/lots.service'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { restart } from '#test/make/restart'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
let closesAt: number
beforeEach(async () => {
  stage = openStage()
  await stage.as('maker')
  const first = await makeOpenLot(stage)
  await makeOpenLot(stage, { tag: 'TERN-04' })
  closesAt = first.closesAt
  for (const [name, maximum] of [
    ['Ada', '60'],
    ['Ben', '90'],
    ['Cai', '70'],
  ] as const) {
    const { bid } = await makeBidder(stage, name)
    await bid(1, maximum).catch(() => {})
    await bid(2, maximum).catch(() => {})
  }
})
afterEach(() => stage.close())

const state = (number: number) => findLot(stage.sight(), number)?.state
/** What a tool that writes into tables, or a disk, did to the first lot. Triggers that keep rows from being changed are taken away first. */
async function damage(words: string) {
  await stage.command(({ db }) => {
    for (const { name } of db.all<{ name: string }>(sql`SELECT name FROM sqlite_schema WHERE type = 'trigger'`))
      db.run(sql.raw(`DROP TRIGGER "${name}"`))
    db.run(sql.raw(words))
  })
  // As at a start, when nothing is held in memory.
  stage = await restart(stage, 1_000)
}
async function close() {
  stage.clock.set(closesAt + 30 * MINUTE)
  await stage.command(() => {})
}
const ofLot = (number: number) => `lot_id = (SELECT id FROM lot WHERE number = ${number})`

describe('a lot that is whole', () => {
  it('shows no damage, and is sold', async () => {
    expect(damageOf(stage.sight(), 1)).toBeNull()
    await close()
    expect([state(1), state(2)]).toEqual(['sold', 'sold'])
  })
})

describe('a lot that is altered while the house is open', () => {
  it('is found out before its price is struck', async () => {
    await stage.command(({ db }) => db.run(sql`UPDATE lot SET standing_minor = standing_minor + 1000 WHERE number = 1`))
    await close()
    expect([state(1), state(2)]).toEqual(['held', 'sold'])
  })
})

describe('a history that cannot be written on', () => {
  it('is left as it is: no head is signed over it that could not be taken back', async () => {
    const entries = () => stage.db.all(sql`SELECT position FROM ledger_leaf JOIN lot ON lot.id = lot_id WHERE number = 1`).length
    const before = entries()
    await damage('UPDATE lot SET ledger_size = ledger_size + 1 WHERE number = 1')
    expect([state(1), entries()]).toEqual(['held', before])
  })
})

describe('a lot of which something was altered', () => {
  it.each([
    [
      'a maximum that was put in the place of another',
      `UPDATE bid SET sealed = (SELECT sealed FROM bid b WHERE b.${ofLot(2)} AND b.sequence = bid.sequence) WHERE ${ofLot(1)}`,
    ],
    [
      'a maximum of which a letter was turned',
      `UPDATE bid SET sealed = substr(sealed, 1, 10) || (CASE substr(sealed, 11, 1) WHEN 'A' THEN 'B' ELSE 'A' END) || substr(sealed, 12) WHERE ${ofLot(1)}`,
    ],
    ['who stands first', `UPDATE lot SET leader_alias = second_alias, leader_sequence = second_sequence WHERE number = 1`],
    ['the standing price', `UPDATE lot SET standing_minor = standing_minor + 1000 WHERE number = 1`],
    [
      'an entry of its history',
      `UPDATE ledger_leaf SET body = replace(body, '"standingMinor":', '"standingMinor":1') WHERE ${ofLot(1)} AND body LIKE '%standingMinor":%'`,
    ],
    [
      'who leads, as a person',
      `UPDATE lot SET leader_person_id = (SELECT person_id FROM alias WHERE ${ofLot(1)} AND alias = lot.second_alias) WHERE number = 1`,
    ],
    [
      'whose bid it is',
      `UPDATE bid SET person_id = (SELECT min(person_id) FROM alias WHERE ${ofLot(1)} AND person_id <> bid.person_id) WHERE ${ofLot(1)} AND sequence = 2`,
    ],
    ['its ladder', `UPDATE lot SET terms = json_set(terms, '$.ladder[0].stepMinor', 1) WHERE number = 1`],
    ['what is sold', `UPDATE lot SET terms = json_set(terms, '$.sale.title', 'Saltmarsh shortwave deceiver') WHERE number = 1`],
    ['what its postage costs', `UPDATE lot SET terms = json_set(terms, '$.sale.postage[0].priceMinor', 1) WHERE number = 1`],
    ['how many entries it has', 'UPDATE lot SET ledger_size = ledger_size + 1 WHERE number = 1'],
    [
      'the hashes from which it grows',
      `UPDATE lot SET ledger_peaks = json_set(ledger_peaks, '$[0]', replace(json_extract(ledger_peaks, '$[0]'), 'a', 'b')) WHERE number = 1`,
    ],
    ['a bid that is gone', `DELETE FROM bid WHERE ${ofLot(1)} AND sequence = 1`],
  ])('%s: it is not closed, the maker is told, and every other lot goes on', async (_, words) => {
    await damage(words)
    expect([state(1), state(2)]).toEqual(['held', 'open'])
    await close()
    expect([state(1), state(2)]).toEqual(['held', 'sold'])
    const told = stage.letters()
    expect(told.filter(({ subject }) => subject.includes('could not be closed')).map(({ recipient }) => recipient)).toEqual([
      'maker@maker.example',
    ])
    // Nothing that is sealed is told, not even to the maker.
    for (const { recipient, body } of told) if (recipient.startsWith('maker')) expect(body).not.toMatch(/9000|90\.00/)
    // Any command goes on being taken, days later too.
    stage.clock.pass(2 * DAY)
    await stage.command(() => {})
    expect(state(1)).toBe('held')
  })
})

describe('a reserve that was taken away', () => {
  it('is noticed before the lot could go below it', async () => {
    stage.close()
    stage = openStage()
    await stage.as('maker')
    const { number } = await makeOpenLot(stage, { form: { reserveKind: 'amount', reserve: '110' } })
    closesAt = findLot(stage.sight(), number)?.closesAt ?? 0
    await (await makeBidder(stage, 'Ada')).bid(number, '60')
    expect(damageOf(stage.sight(), number)).toBeNull()
    await damage(`UPDATE lot SET sealed_reserve = NULL WHERE number = ${number}`)
    expect(state(number)).toBe('held')
  })
})
