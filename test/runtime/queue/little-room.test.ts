import Database from 'better-sqlite3'
import { expect, test } from 'vitest'
import { openQueue } from '#runtime/queue/queue'
import type { Turn } from '#runtime/queue/turn'

test('that something small was kept is not room enough: the house is asked each time until it says so, and then no more', async () => {
  const handle = new Database(':memory:')
  handle.exec('CREATE TABLE note (words TEXT)')
  const put = handle.prepare('INSERT INTO note (words) VALUES (?)')
  let hasRoom = false
  let asked = 0
  const queue = openQueue({
    handle,
    stamp: () => 0,
    turnAt: () => ({ now: 0 }) as unknown as Turn,
    due: { start: () => {}, nextAt: () => null, run: () => {}, bringsForward: () => false },
    announce: () => {},
    full: () => false,
    room: () => {
      asked += 1
      return hasRoom
    },
    broken: () => {},
  })
  const write = (words: string) => queue.run(() => put.run(words))
  await write('a first word')
  const pages = Number(handle.pragma('page_count', { simple: true }))
  handle.pragma(`max_page_count = ${pages}`)
  await expect(write('x'.repeat(50_000))).rejects.toMatchObject({ code: 'no-room' })
  await write('small')
  await write('small again')
  expect(asked, 'asked after each that was kept').toBe(2)
  handle.pragma('max_page_count = 1073741823')
  hasRoom = true
  await write('x'.repeat(50_000))
  expect(asked).toBe(3)
  await write('as on any day')
  expect(asked, 'not asked on a good day').toBe(3)
  handle.close()
})
