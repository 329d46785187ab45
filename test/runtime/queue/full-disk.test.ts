import { existsSync } from 'node:fs'
import { request } from 'node:http'
import { join } from 'node:path'
import { sql } from 'drizzle-orm'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { MINUTE } from '#kernel/instant'
import { Refusal } from '#kernel/refusal'
import { openSpare, SPARE_FILE } from '#runtime/disk/spare'
import { findLot } from '#sale/lots/lots.service'
import { openStageDoor } from '#test/doors/web/open-door'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

/** SQLite is given no page more than it has, and answers as it does on a disk without room. */
const pragma = (words: string) => Object.values(stage.db.get<object>(sql.raw(`PRAGMA ${words}`)))[0]
const fill = () => pragma(`max_page_count = ${pragma('page_count')}`)
const makeRoom = () => pragma('max_page_count = 1073741823')
/** Far more than the free parts of its pages hold. */
const write = (words = 'x'.repeat(200_000)) =>
  stage.command((turn) => turn.record({ kind: 'noted', subject: 'a long story', body: { words } }))

test('a full disk refuses in words and keeps nothing by halves; with room the house goes on by itself', async () => {
  const before = stage.facts().length
  fill()
  const refused = await write().catch((reason: unknown) => reason)
  expect(refused).toBeInstanceOf(Refusal)
  expect(refused).toMatchObject({ code: 'no-room', message: expect.stringContaining('What you wrote is still here') })
  expect(stage.facts()).toHaveLength(before)
  expect(stage.house.trouble()).toContain('no bid, no reading and no payment')
  makeRoom()
  await write()
  expect(stage.facts()).toHaveLength(before + 1)
  expect(stage.house.trouble()).toBeNull()
})

test('the room that was kept is let go first, and whoever asked is not troubled', async () => {
  openSpare(stage.dir, 1024 * 1024).keep()
  expect(existsSync(join(stage.dir, SPARE_FILE))).toBe(true)
  let tries = 0
  fill()
  await stage.command((turn) => {
    // The second try is after the room was let go, as it would be on a real disk.
    tries += 1
    if (tries === 2) makeRoom()
    turn.record({ kind: 'noted', subject: 'a long story', body: { words: 'x'.repeat(200_000) } })
  })
  expect(existsSync(join(stage.dir, SPARE_FILE))).toBe(false)
  expect(tries).toBe(2)
})

test('a lot that fell due meanwhile is closed when there is room, not before', async () => {
  const { number, closesAt } = await makeOpenLot(stage)
  await makeBidder(stage, 'Ada')
  await (await stage.as('bidder', 'Ada')).bidding.place({ key: 'one-bid-before-it-is-full', lot: number, maximum: '50' })
  fill()
  await expect(write()).rejects.toThrow(/full/)
  stage.clock.set(closesAt + MINUTE)
  await expect(write()).rejects.toThrow(/full/)
  expect(findLot(stage.sight(), number)?.state).toBe('open')
  makeRoom()
  await stage.command(() => {})
  expect(findLot(stage.sight(), number)?.state).not.toBe('open')
})

test('whoever is refused and writes nothing does not say that there is room', async () => {
  fill()
  await expect(write()).rejects.toThrow(/full/)
  const refused = stage.command(() => {
    throw new Refusal('conflict', 'No.')
  })
  await expect(refused).rejects.toThrow('No.')
  expect(stage.house.trouble()).toContain('no bid, no reading and no payment')
  makeRoom()
  await write()
  expect(stage.house.trouble()).toBeNull()
})

test('every screen is told at once, and again when it is over', async () => {
  const door = await openStageDoor(stage)
  const heard = await new Promise<() => string>((resolve, reject) => {
    let text = ''
    const asked = request(`${door.url}/live?topics=lots`, (answer) => {
      answer.on('data', (part: Buffer) => {
        text += part
        resolve(() => text)
      })
      answer.on('error', () => {})
    })
    asked.on('error', reject)
    asked.end()
  })
  expect(heard()).toContain('"trouble":null')
  fill()
  await expect(write()).rejects.toThrow(/full/)
  await expect.poll(heard).toContain('"trouble":"Nothing can be taken just now, because the disk of this house is full')
  makeRoom()
  await write()
  await expect.poll(heard).toMatch(/"trouble":"Nothing can be taken just now, because the disk.*"trouble":null/s)
  door.close()
})

test('no room is kept on a disk that has little', () => {
  openSpare(stage.dir, 1024 * 1024, () => 7 * 1024 * 1024).keep()
  expect(existsSync(join(stage.dir, SPARE_FILE))).toBe(false)
})

test('when the disk itself fails every screen is told, and whoever watches over the program', async () => {
  let ends = 0
  const failing = openStage({ ended: () => ends++ })
  // Whatever is written from here on fails, as on a disk that has become read-only.
  failing.db.run(sql.raw('PRAGMA query_only = 1'))
  await expect(failing.command((turn) => turn.record({ kind: 'noted', subject: 'never', body: {} }))).rejects.toThrow()
  expect(ends).toBe(1)
  expect(failing.house.trouble()).toContain('has to restart the house')
  await expect(failing.command(() => {})).rejects.toThrow()
  expect(ends).toBe(1)
  failing.close()
})
