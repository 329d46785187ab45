import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, afterEach, beforeEach, expect, test } from 'vitest'
import { openLog } from '#runtime/settings/log'
import { openWorkshop, type Workshop } from '#runtime/workers/workers'

/** Doubles a number; a few words make it stumble, die or never answer. */
const DOUBLER = `
import { parentPort, threadId } from 'node:worker_threads'
parentPort.on('message', ({ id, content }) => {
  if (content === 'die') process.exit(3)
  if (content === 'throw') throw new Error('fell over')
  if (content === 'thread') parentPort.postMessage({ id, product: threadId })
  else if (typeof content === 'number') setTimeout(() => parentPort.postMessage({ id, product: 2 * content }), content)
  else if (content !== 'silence') parentPort.postMessage({ id, failed: 'That cannot be doubled.' })
})`
const dir = mkdtempSync(join(tmpdir(), 'tagstrip-worker-'))
const entry = join(dir, 'doubler.mjs')
writeFileSync(entry, DOUBLER)
afterAll(() => rmSync(dir, { recursive: true }))

let workshop: Workshop<unknown, number>
beforeEach(() => {
  workshop = openWorkshop({ entry, log: openLog('silent') })
})
afterEach(() => workshop.close())

test('each order gets its own product, whichever is ready first', async () => {
  expect(await Promise.all([30, 1, 10].map((number) => workshop.make(number)))).toEqual([60, 2, 20])
})

test('what cannot be made is refused in the worker’s words, and the worker goes on', async () => {
  const thread = await workshop.make('thread')
  await expect(workshop.make('a word')).rejects.toThrow('That cannot be doubled.')
  expect(await workshop.make('thread')).toBe(thread)
})

test.each(['die', 'throw'])('when the worker should %s, what waits for it is refused and the next order starts another', async (end) => {
  const thread = await workshop.make('thread')
  const waiting = workshop.make('silence')
  const fatal = workshop.make(end)
  await expect(fatal).rejects.toThrow('The worker thread died over it.')
  await expect(waiting).rejects.toThrow('The worker thread died over it.')
  expect(await workshop.make(4)).toBe(8)
  expect(await workshop.make('thread')).not.toBe(thread)
})

test('a workshop that closes refuses what is still waited for', async () => {
  const waiting = workshop.make('silence')
  workshop.close()
  await expect(waiting).rejects.toThrow('The house closes.')
})

test('a worker whose bundle is missing refuses the order, and the house stands', async () => {
  const empty = openWorkshop({ entry: join(dir, 'nothing.mjs'), log: openLog('silent') })
  await expect(empty.make(1)).rejects.toThrow('The worker thread died over it.')
})
