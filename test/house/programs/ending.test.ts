import { spawnSync } from 'node:child_process'
import { mkdtempSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { build } from 'esbuild'
import { afterEach, beforeEach, expect, test } from 'vitest'

const root = join(import.meta.dirname, '..', '..', '..')

let dir: string
beforeEach(() => {
  // Within the project, where its packages are found.
  dir = mkdtempSync(join(root, 'node_modules', '.ending-'))
})
afterEach(() => rmSync(dir, { recursive: true, force: true }))

async function run(program: string) {
  const outfile = join(dir, 'program.mjs')
  await build({
    stdin: { contents: `import { endOnSignal, stopOnSignal } from '#house/programs/ending'\n${program}`, resolveDir: root, loader: 'ts' },
    outfile,
    bundle: true,
    packages: 'external',
    platform: 'node',
    format: 'esm',
    logLevel: 'warning',
  })
  const { status, signal, stdout, stderr } = spawnSync(process.execPath, [outfile], { encoding: 'utf8', timeout: 20_000 })
  return { status, signal, stdout, stderr }
}

/** A program that is told to end before the loop turns, by which time it has opened something. */
const toldWhileItReads = (close: string) => `
  endOnSignal()
  setTimeout(() => console.log('never told'), 3_000)
  setImmediate(() => {
    process.kill(process.pid, 'SIGTERM')
    const until = Date.now() + 200
    while (Date.now() < until);
    stopOnSignal({ close: async () => { ${close} } })
  })`

test('a program that is told to end while it reads its pages closes what it has opened by then', async () => {
  expect(await run(toldWhileItReads("console.log('closed')"))).toEqual({ status: 0, signal: null, stdout: 'closed\n', stderr: '' })
})

test('one that cannot close what is open ends all the same, and says so', async () => {
  const { status, stdout, stderr } = await run(toldWhileItReads("throw new Error('the line hung')"))
  expect({ status, stdout }).toEqual({ status: 0, stdout: '' })
  expect(stderr).toContain('the line hung')
})

test('told to end before anything is open, it ends at once', async () => {
  const { status, stdout } = await run(`
    endOnSignal()
    setTimeout(() => console.log('never told'), 3_000)
    process.kill(process.pid, 'SIGTERM')`)
  expect({ status, stdout }).toEqual({ status: 0, stdout: '' })
})
