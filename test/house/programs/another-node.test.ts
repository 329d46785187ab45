import { spawnSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { build } from 'esbuild'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { startWords } from '#house/programs/start-words'

const root = join(import.meta.dirname, '..', '..', '..')

let dir: string
beforeEach(() => {
  dir = mkdtempSync(join(tmpdir(), 'tagstrip-node-'))
})
afterEach(() => rmSync(dir, { recursive: true, force: true }))

/** Starts the part of a start that looks whether everything is installed, beside an npm that says what it was told. */
function installed(stamp: string): string {
  mkdirSync(join(dir, 'node_modules'), { recursive: true })
  mkdirSync(join(dir, 'bin'), { recursive: true })
  writeFileSync(join(dir, 'package-lock.json'), '{}')
  writeFileSync(join(dir, 'node_modules', '.tagstrip-lock'), stamp)
  writeFileSync(join(dir, 'bin', 'npm'), '#!/bin/sh\necho "npm was told: $*" >> told\n', { mode: 0o755 })
  for (const name of ['ready.mjs', 'steps.mjs']) cpSync(join(root, 'server', 'house', 'programs', name), join(dir, name))
  const program = "import { ensureInstalled } from './ready.mjs'; const { driver } = await ensureInstalled(); await driver"
  rmSync(join(dir, 'told'), { force: true })
  spawnSync(process.execPath, ['--input-type=module', '-e', program], {
    cwd: dir,
    env: { ...process.env, PATH: `${join(dir, 'bin')}:${process.env.PATH}` },
    encoding: 'utf8',
  })
  return existsSync(join(dir, 'told')) ? readFileSync(join(dir, 'told'), 'utf8') : ''
}

const digest = () => createHash('sha256').update('package-lock.json').update('{}').digest('hex')

test('what another Node installed is installed anew, and what this one did is not', () => {
  expect(installed(`${digest()} 1`)).toContain('npm was told: ci')
  expect(readFileSync(join(dir, 'node_modules', '.tagstrip-lock'), 'utf8')).toBe(`${digest()} ${process.versions.modules}`)
  expect(installed(`${digest()} ${process.versions.modules}`)).toBe('')
})

test('a stamp that does not say for which Node counts where the driver loads', () => {
  expect(installed(digest())).toContain('npm was told: ci')
  const driver = join(dir, 'node_modules', 'better-sqlite3')
  mkdirSync(driver)
  writeFileSync(join(driver, 'index.js'), 'module.exports = class {}')
  expect(installed(digest())).toBe('')
  expect(readFileSync(join(dir, 'node_modules', '.tagstrip-lock'), 'utf8')).toBe(`${digest()} ${process.versions.modules}`)
})

test('a driver that does not load is told in a sentence with what to do', async () => {
  // A driver of no machine at all, as one for another Node is to this one.
  const driver = join(dir, 'driver.node')
  writeFileSync(driver, 'not a driver')
  await build({
    stdin: {
      contents: `
        import { startWords } from './server/house/programs/start-words'
        try { process.dlopen({ exports: {} }, process.argv[2]) } catch (reason) { console.log(startWords(reason)) }`,
      resolveDir: root,
    },
    outfile: join(dir, 'start.mjs'),
    bundle: true,
    platform: 'node',
    format: 'esm',
  })
  const { stdout, stderr } = spawnSync(process.execPath, [join(dir, 'start.mjs'), driver], { encoding: 'utf8' })
  expect(stderr).toBe('')
  expect(stdout).toContain(`does not match this Node (${process.versions.node})`)
  expect(stdout).toContain('npm ci')
  expect(stdout).not.toContain(driver)
})

test('so is one that is not there, and a port that is taken; anything else is said as it is', () => {
  expect(startWords(new Error('Could not locate the bindings file. Tried:\n → …'))).toContain('npm ci')
  expect(startWords(Object.assign(new Error('listen EADDRINUSE'), { code: 'EADDRINUSE' }))).toContain('Set PORT to another number')
  expect(startWords(new Error('A setting is wrong'))).toBe('A setting is wrong')
})
