import { sql } from 'drizzle-orm'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { Refusal } from '#kernel/refusal'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage({ isDemo: true })
})
afterEach(() => stage.close())

/** SQLite is given no page more than it has, and answers as it does on a disk without room. */
const pragma = (words: string) => Object.values(stage.db.get<object>(sql.raw(`PRAGMA ${words}`)))[0]

test('whoever signs in on a full disk is told of the disk, and not of a fault', async () => {
  const { personId } = await stage.actor('maker', 'Ada')
  pragma(`max_page_count = ${pragma('page_count')}`)
  // Far more than the free parts of its pages hold.
  const device = 'x'.repeat(100_000)
  const refused = await stage.house.signIn.openSession(personId, device).catch((reason: unknown) => reason)
  expect(refused).toBeInstanceOf(Refusal)
  expect(refused).toMatchObject({ code: 'no-room', message: expect.stringContaining('disk is full') })
  pragma('max_page_count = 1073741823')
  expect(await stage.house.signIn.openSession(personId, 'Firefox on Linux')).toHaveLength(1)
})
