import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { openBenchHouse } from '#test/benchmarks/open-house'

// Where there is no strace, or a container refuses tracing, this cannot be seen and is skipped.
const mayTrace = spawnSync('strace', ['-o', '/dev/null', 'true']).status === 0

interface Call {
  name: string
  on: string
  text: string
}

/** The system calls of a trace in the order in which they ended; what was cut in two by another thread is joined. */
function callsOf(trace: string): Call[] {
  const begun = new Map<string, string>()
  return trace.split('\n').flatMap((line) => {
    const [, thread = '', said = ''] = /^(\d+)\s+(.*)$/.exec(line) ?? []
    if (said.includes('<unfinished ...>')) {
      begun.set(thread, said.replace('<unfinished ...>', ''))
      return []
    }
    const whole = said.startsWith('<... ') ? (begun.get(thread) ?? '') + said.replace(/^<\.\.\. \w+ resumed>/, '') : said
    const [, name = '', on = ''] = /^(\w+)\(\d+<([^>]*)>/.exec(whole) ?? []
    return name === '' ? [] : [{ name, on, text: whole }]
  })
}

test.skipIf(!mayTrace)('the answer to a bid leaves after its rows were synced to the disk', { timeout: 60_000 }, async () => {
  const dir = mkdtempSync(join(tmpdir(), 'tagstrip-trace-'))
  const file = join(dir, 'calls')
  const house = await openBenchHouse(1, ['strace', '-f', '-y', '-s', '40', '-e', 'trace=pwrite64,fsync,fdatasync,write,writev', '-o', file])
  const { status } = await house.bid(house.cookies[0] ?? '', house.lots[0] ?? 0)
  await house.close()
  const calls = callsOf(readFileSync(file, 'utf8'))
  rmSync(dir, { recursive: true })

  expect(status).toBe(200)
  const answered = calls.findIndex(({ on, text }) => on.startsWith('socket') && text.includes('HTTP/1.1 200'))
  const before = calls.slice(0, answered)
  const written = before.findLastIndex(({ name, on }) => name === 'pwrite64' && on.endsWith('tagstrip.db-wal'))
  const synced = before.findLastIndex(
    ({ name, on, text }) => /^f(data)?sync$/.test(name) && on.endsWith('tagstrip.db-wal') && text.endsWith('= 0'),
  )
  expect(answered).toBeGreaterThan(0)
  expect(written).toBeGreaterThan(0)
  expect(synced).toBeGreaterThan(written)
})
