import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { createServer, type Server } from 'node:http'
import type { AddressInfo } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'

// The built programs, as whatever keeps them runs them: nothing that they print is anything but a line of JSON.

const root = join(import.meta.dirname, '..', '..', '..')

interface Line {
  level: number
  time: string
  msg: string
  link?: string
  printed?: boolean
}

let dir: string
let taken: Server
beforeAll(async () => {
  dir = mkdtempSync(join(tmpdir(), 'tagstrip-said-'))
  taken = createServer().listen(0, '127.0.0.1')
  await once(taken, 'listening')
})
afterAll(() => {
  taken.close()
  rmSync(dir, { recursive: true, force: true })
})

const lineOf = (text: string): Line => {
  const line = JSON.parse(text) as Line
  expect(line, text).toMatchObject({ level: expect.any(Number), time: expect.stringMatching(/Z$/), msg: expect.stringMatching(/./) })
  return line
}

/** Runs a program until it has ended, or has said what is waited for and been told to end. */
async function run(program: string, env: Record<string, string>, until?: (said: string) => boolean | Promise<boolean>) {
  expect(existsSync(join(root, 'dist', program)), 'npm run build makes it').toBe(true)
  const child = spawn(process.execPath, [join('dist', program)], {
    cwd: root,
    env: { PATH: process.env.PATH, NODE_ENV: 'production', HOST: '127.0.0.1', DATA_DIR: join(dir, 'house'), ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  let said = ''
  let isTold = false
  for (const stream of [child.stdout, child.stderr])
    stream.on('data', async (part) => {
      said += part
      if (isTold || !until || !(await until(said)) || isTold) return
      isTold = true
      child.kill('SIGTERM')
    })
  const [code] = (await once(child, 'close')) as [number | null]
  return { code, lines: said.split('\n').filter(Boolean).map(lineOf) }
}

async function freePort(): Promise<number> {
  const probe = createServer().listen(0, '127.0.0.1')
  await once(probe, 'listening')
  const { port } = probe.address() as AddressInfo
  probe.close()
  return port
}

/** A module that does something, as a library might, as soon as the program has seen to what is printed. */
function whenOpening(statements: string): string {
  const file = join(mkdtempSync(join(dir, 'does-')), 'something.mjs')
  writeFileSync(
    file,
    `const look = setInterval(() => {
      if (process.listenerCount('uncaughtException') === 0) return
      clearInterval(look)
      ${statements}
    }, 5).unref()`,
  )
  return file
}

test('a house that opens, what Node warns of and the link for its first maker included', async () => {
  const loud = whenOpening(`
    console.log('\\u001b[32m✓\\u001b[39m %s of them', 3)
    console.error(new Error('a page failed for ada@workshop.example'))
    process.emitWarning('old ways')`)
  const isDone = (said: string) => ['old ways', 'next.config', '/first#'].every((words) => said.includes(words))
  const { code, lines } = await run('server.mjs', { PORT: '0', NODE_OPTIONS: `--import ${loud}` }, isDone)
  expect(code).toBe(0)
  expect(lines.map(({ msg }) => msg)).toEqual(expect.arrayContaining(['the house is open', '✓ 3 of them', 'Node warns']))
  expect(lines.find(({ msg }) => msg.includes('next.config'))).toMatchObject({ level: 30, printed: true })
  expect(lines.find(({ msg }) => msg.startsWith('a page failed'))).toMatchObject({ level: 50, msg: 'a page failed for (a mail address)' })
  expect(lines.find(({ link }) => link)?.link).toMatch(/\/first#[\w-]{20,}$/)
}, 60_000)

test('a house that makes pages: what the thread says that makes them', async () => {
  const port = String(await freePort())
  let isAsked = false
  const isMade = async (said: string) => {
    if (!isAsked && said.includes('the house is open')) {
      isAsked = true
      const answer = await fetch(`http://127.0.0.1:${port}/credits`)
      await answer.text()
    }
    // Once by the house, and once by its thread.
    return said.split('next.config').length > 2
  }
  const { code, lines } = await run('server.mjs', { PORT: port, LOG_LEVEL: 'info' }, isMade)
  expect(code).toBe(0)
  expect(lines.filter(({ msg }) => msg.includes('next.config')).map(({ printed }) => printed)).toEqual([true, true])
}, 60_000)

test('what keeps a program from opening is one line too, with what to do', async () => {
  const port = String((taken.address() as AddressInfo).port)
  const cases = [
    ['server.mjs', { PORT: port }, /Another program is already listening there/],
    ['server.mjs', { PORT: 'many' }, /PORT wants a whole number/],
    ['standby.mjs', { PORT: '0' }, /NATS_URL is not set/],
    ['relay.mjs', { PORT: '0' }, /A relay hears its house through NATS/],
  ] as const
  await Promise.all(
    cases.map(async ([program, env, words]) => {
      const { code, lines } = await run(program, env)
      expect(code).toBe(1)
      expect(lines.find(({ level }) => level === 60)?.msg).toMatch(words)
    }),
  )
}, 60_000)

test('a fault that nothing caught ends the house, and is one line', async () => {
  const faulty = whenOpening("throw new Error('out of the blue')")
  const { code, lines } = await run('server.mjs', { PORT: '0', NODE_OPTIONS: `--import ${faulty}` })
  expect(code).toBe(1)
  expect(lines.find(({ level }) => level === 60)).toMatchObject({ err: { message: 'out of the blue' } })
}, 30_000)
