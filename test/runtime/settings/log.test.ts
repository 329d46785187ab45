import { expect, test } from 'vitest'
import { letter } from '#db/schema/index'
import { openLog } from '#runtime/settings/log'
import { openStage } from '#test/stage'

const lines: string[] = []
const log = openLog('debug', { write: (line) => void lines.push(line) })
const logged = (write: () => void): string => {
  lines.length = 0
  write()
  expect(lines).toHaveLength(1)
  return lines.join('')
}

test.each(['ada@workshop.example', 'Ada.O’Neill+sale@mail.workshop.example', 'åse@dahl.example'])(
  'no line holds the address %s',
  (address) => {
    const fault = Object.assign(new Error(`550 <${address}>: no such mailbox`, { cause: new Error(`to=${address}`) }), {
      rejected: [address],
    })
    for (const line of [
      logged(() => log.warn({ err: fault }, 'a letter did not go')),
      logged(() => log.info({ to: address, list: [`"Ada" <${address}>`] }, `written to ${address}`)),
      logged(() => log.error(fault)),
    ]) {
      expect(line).not.toContain('.example')
      expect(line).toContain('(a mail address)')
      expect(JSON.parse(line)).toHaveProperty('time')
    }
  },
)

test('a query that failed is logged with its reason, and without what it was given', () => {
  const stage = openStage()
  const row = { id: 'one', at: 1, recipient: 'ada@workshop.example', subject: 's', body: 'your maximum of\n£4,913', nextTryAt: 1 }
  stage.db.insert(letter).values(row).run()
  try {
    stage.db.insert(letter).values(row).run()
  } catch (reason) {
    const line = logged(() => log.error({ err: reason }, 'a request failed'))
    expect(line).toMatch(/UNIQUE constraint failed|SQLITE_CONSTRAINT/)
    expect(line).not.toMatch(/4,913|ada@|workshop/)
    // As the library words it where it wraps what the database said.
    const wrapped = new Error(
      `Failed query: insert into "letter" values (?, ?)\nparams: one,ada@workshop.example,your maximum of\n£4,913`,
      {
        cause: reason,
      },
    )
    const other = logged(() => log.error({ err: wrapped }, 'a request failed'))
    expect(other).toContain('insert into')
    expect(other).toContain('log.test.ts')
    expect(other).not.toMatch(/4,913|ada@/)
  }
  expect(lines).toHaveLength(1)
  stage.close()
})

test('the path of a package in a stack stays readable, and a long line is read at once', () => {
  const fault = new Error('x')
  fault.stack = 'Error: x\n    at call (/srv/node_modules/@trpc/server/dist/index.mjs:1:2)'
  expect(logged(() => log.error({ err: fault }))).toContain('node_modules/@trpc/server')
  const began = performance.now()
  for (const long of ['a'.repeat(200_000), 'a@'.repeat(100_000), `params: ${'\n    '.repeat(40_000)}`])
    logged(() => log.error({ err: new Error(long) }, long))
  expect(performance.now() - began).toBeLessThan(2000)
})
