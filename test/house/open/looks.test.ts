import { join } from 'node:path'
import { sql } from 'drizzle-orm'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { MINUTE } from '#kernel/instant'
import { makeBackupAtOnce } from '#runtime/disk/backup'
import { isLongerThanAStart } from '#sale/closings/set-aside.service'
import { getLotRow } from '#sale/lots/lots.service'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { restart } from '#test/make/restart'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
/** The first lot has ended, the second runs. */
beforeEach(async () => {
  stage = openStage()
  const first = await makeOpenLot(stage, { form: { reserveKind: 'amount', reserve: '50' } })
  await makeOpenLot(stage, { tag: 'TERN-04', closesIn: 300 * MINUTE })
  for (const [name, maximum] of [
    ['Ada', '60'],
    ['Ben', '90'],
    ['Cai', '70'],
  ] as const) {
    const { bid } = await makeBidder(stage, name)
    await bid(1, maximum).catch(() => {})
    await bid(2, maximum).catch(() => {})
  }
  const maker = await stage.as('maker')
  await maker.bidding.correct({ lot: 2, words: 'The booklet has 12 pages.' })
  stage.clock.set(first.closesAt + MINUTE)
  await stage.command(() => {})
  expect(getLotRow(stage.sight(), 1).state).toBe('sold')
})
afterEach(() => stage.close())

const alter = (words: string) =>
  stage.command(({ db }) => {
    for (const { name } of db.all<{ name: string }>(sql`SELECT name FROM sqlite_schema WHERE type = 'trigger'`))
      db.run(sql.raw(`DROP TRIGGER "${name}"`))
    db.run(sql.raw(words))
  })
const standing = async () => {
  await stage.house.looks.look()
  stage.house.vitals.look()
  return stage.house.vitals.find('kept-damaged')
}
const ofLot = (number: number) => `lot_id = (SELECT id FROM lot WHERE number = ${number})`

describe('what is as it was written', () => {
  it('is said to be so', async () => {
    expect(await stage.house.looks.look()).toEqual({ damage: [], pages: [], soundCopy: null })
    expect(await standing()).toMatchObject({ standing: 'good', value: 0 })
  })
})

describe('a lot that has ended, or runs, of which a row was altered', () => {
  it.each([
    [
      'an entry',
      `UPDATE ledger_leaf SET body = replace(body, '"standingMinor":', '"standingMinor":1') WHERE ${ofLot(1)} AND position = 2`,
      'Entry 3 is not what was signed at 3 entries.',
    ],
    [
      'an entry that is none',
      `UPDATE ledger_leaf SET body = '{}' WHERE ${ofLot(1)} AND position = 1`,
      'Entry 2 cannot be read: it was altered.',
    ],
    [
      'the root of a head',
      `UPDATE ledger_head SET root = replace(root, substr(root, 1, 1), 'g') WHERE ${ofLot(1)} AND size = 2`,
      'The head at 2 entries is kept with another root than was signed.',
    ],
    [
      'a signature',
      `UPDATE ledger_head SET checkpoint = substr(checkpoint, 1, length(checkpoint) - 12) || 'AAAA' || substr(checkpoint, -8) WHERE ${ofLot(1)} AND size = 2`,
      'The head at 2 entries carries a signature that is not the house',
    ],
    [
      'a maximum',
      `UPDATE bid SET sealed = substr(sealed, 1, 20) || (CASE substr(sealed, 21, 1) WHEN 'A' THEN 'B' ELSE 'A' END) || substr(sealed, 22) WHERE ${ofLot(1)} AND sequence = 2`,
      'bid of lot 1 sequence 2 does not open',
    ],
    [
      'whose bid it was',
      `UPDATE bid SET person_id = (SELECT min(person_id) FROM alias WHERE ${ofLot(1)} AND person_id <> bid.person_id) WHERE ${ofLot(1)} AND sequence = 2`,
      'Bid 2 is not kept for the person behind its alias.',
    ],
    ['when it was', `UPDATE bid SET at = at + 1 WHERE ${ofLot(1)} AND sequence = 1`, 'Bid 1 (entry 2) is kept with another time'],
    [
      'what was told',
      `UPDATE bid SET answer = replace(answer, '"leads":true', '"leads":false') WHERE ${ofLot(1)}`,
      'what its bidder was told is not what was signed',
    ],
    [
      'the standing sum',
      'UPDATE lot SET standing_minor = standing_minor + 1000 WHERE number = 1',
      'What is kept of its bids is not what its history leads to.',
    ],
    ['the hammer', 'UPDATE lot SET hammer_minor = hammer_minor + 1000 WHERE number = 1', 'Its hammer is not what its end says.'],
    [
      'the winner',
      'UPDATE lot SET winner_person_id = (SELECT min(person_id) FROM alias WHERE person_id <> lot.winner_person_id) WHERE number = 1',
      'Its winner is not the person who led',
    ],
    [
      'the story in its terms',
      `UPDATE lot SET terms = json_set(terms, '$.sale.story', 'Another.') WHERE number = 1`,
      'Its terms are not those that entry 1 fixed.',
    ],
    ['a correction', `UPDATE lot SET corrections = replace(corrections, '12', '21') WHERE number = 2`, 'Its corrections are not those'],
    ['whose bids count', `UPDATE alias SET voided_at = 1 WHERE ${ofLot(1)}`, 'count is kept otherwise than its entries say.'],
    [
      'the head that it keeps',
      `UPDATE lot SET head_hash = replace(head_hash, substr(head_hash, 1, 1), 'g') WHERE number = 1`,
      'The head that the lot keeps is not the last that was signed.',
    ],
  ])('%s: it is said where, and nothing is changed by the look', async (_, words, said) => {
    await alter(words)
    const before = stage.house.changes()
    const found = await standing()
    expect(found).toMatchObject({ standing: 'bad', value: 1 })
    expect(found?.words).toContain(said)
    expect(found?.words).toMatch(/^Lot [12]: /)
    expect(found?.toDo).toContain('in the folder backups none is whole')
    expect(stage.house.changes()).toBe(before)
  })

  it('one that runs is set aside by the look, the maker is told, and nobody bids on it meanwhile', async () => {
    await alter(
      `UPDATE bid SET at = at, sealed = (SELECT sealed FROM bid b WHERE b.${ofLot(1)} LIMIT 1) WHERE ${ofLot(2)} AND sequence = 2`,
    )
    expect(getLotRow(stage.sight(), 2).state).toBe('open')
    await stage.house.looks.look()
    expect(getLotRow(stage.sight(), 2).state).toBe('held')
    expect(stage.letters().filter(({ subject }) => subject.includes('could not be closed'))).toHaveLength(1)
    const { bid } = await makeBidder(stage, 'Dora')
    await expect(bid(2, '300')).rejects.toThrow('This lot takes no bids. The house’s record of this lot is damaged.')
  })

  it('a history that is too long for a start is left to the look that follows at once', async () => {
    await alter(`UPDATE lot SET ledger_size = 5000 WHERE number = 2`)
    stage = await restart(stage, 1_000)
    expect([getLotRow(stage.sight(), 2).state, isLongerThanAStart(stage.sight())]).toEqual(['open', true])
    await stage.house.looks.look()
    expect([getLotRow(stage.sight(), 2).state, isLongerThanAStart(stage.sight())]).toEqual(['held', false])
  })

  it('the newest copy that is whole is named, and not one that holds the damage too', async () => {
    const into = join(stage.dir, 'backups')
    const copy = (at: number) => makeBackupAtOnce({ dataDir: stage.dir, intoDir: into, at, madeFor: 'a person' }).dir
    copy(stage.clock.now() - 2 * MINUTE)
    const whole = copy(stage.clock.now() - MINUTE)
    await alter('UPDATE lot SET hammer_minor = hammer_minor + 1000 WHERE number = 1')
    copy(stage.clock.now())
    expect((await standing())?.toDo).toContain(`npm run restore -- ${whole}.`)
  })

  it('its public history shows what is kept now, though it was read before', async () => {
    const visitor = stage.visitor()
    await visitor.bidding.history({ lot: 1 })
    await alter(`UPDATE ledger_leaf SET body = '{}' WHERE ${ofLot(1)} AND position = 1`)
    await stage.house.looks.look()
    await expect(visitor.bidding.history({ lot: 1 })).rejects.toThrow('Entry 2 of this history is damaged')
  })
})

describe('a row for which no lot is there', () => {
  it('is said to be so', async () => {
    stage.db.$client.pragma('foreign_keys = 0')
    await alter(`UPDATE ledger_head SET lot_id = 'nobody' WHERE ${ofLot(1)} AND size = 3`)
    const found = await stage.house.looks.look()
    expect(found?.damage.map(({ words }) => words)).toContain('Rows of a history are kept for a lot that cannot be read (nobody).')
    expect(found?.pages).toContain('rows of ledger_head point nowhere')
  })
})
