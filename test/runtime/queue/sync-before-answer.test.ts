import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { openBenchHouse } from '#test/benchmarks/open-house'
import { answersOf, type Call, callsOf, mayTrace } from '#test/make/system-calls'

test.skipIf(!mayTrace())('the answer to a bid leaves after its rows were synced to the disk', { timeout: 60_000 }, async () => {
  const dir = mkdtempSync(join(tmpdir(), 'tagstrip-trace-'))
  const file = join(dir, 'calls')
  const house = await openBenchHouse(1, ['strace', '-f', '-y', '-s', '40', '-e', 'trace=pwrite64,fsync,fdatasync,write,writev', '-o', file])
  const { status } = await house.bid(house.cookies[0] ?? '', house.lots[0] ?? 0)
  await house.close()
  const answers = answersOf(callsOf(readFileSync(file, 'utf8')))
  rmSync(dir, { recursive: true })

  expect(status).toBe(200)
  expect(answers).toEqual([{ isSynced: true }])
})

test('an answer that leaves before the sync is noticed, and one that was never written', () => {
  const written: Call = { name: 'pwrite64', on: '/house/tagstrip.db-wal', text: 'pwrite64(20, …) = 4096' }
  const synced: Call = { name: 'fdatasync', on: '/house/tagstrip.db-wal', text: 'fdatasync(20) = 0' }
  const answer: Call = { name: 'write', on: 'socket:[1]', text: 'write(9<socket:[1]>, "HTTP/1.1 200 OK"...) = 80' }
  const failed: Call = { ...synced, text: 'fdatasync(20) = -1 EIO' }
  const verdicts = (...calls: Call[]) => answersOf(calls).map(({ isSynced }) => isSynced)
  expect(verdicts(written, synced, answer, written, synced, answer)).toEqual([true, true])
  expect(verdicts(written, answer, synced)).toEqual([false])
  expect(verdicts(synced, written, answer)).toEqual([false])
  expect(verdicts(written, failed, answer)).toEqual([false])
  expect(verdicts(written, synced, answer, answer)).toEqual([true, false])
})
