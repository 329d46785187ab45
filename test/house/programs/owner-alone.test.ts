import { spawnSync } from 'node:child_process'
import { chmodSync, lstatSync, mkdirSync, mkdtempSync, readdirSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { build } from 'esbuild'
import sharp from 'sharp'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { makeCampaign } from '#test/make/campaign'
import { packInto } from '#test/make/packed'
import { openStage, type Stage } from '#test/stage'

// What the programs write, each as a process of its own that was started where everybody may read what is written.

const root = join(import.meta.dirname, '..', '..', '..')
/** Within the project, so that the bundles find their packages. */
const bundles = join(root, 'node_modules', '.vite-temp', 'owner-alone')

let stage: Stage
let dir: string
let pack: string
beforeAll(async () => {
  await build({
    entryPoints: { keep: 'server/house/programs/keep.ts', server: 'server/house/programs/main.ts' },
    absWorkingDir: root,
    outdir: bundles,
    outExtension: { '.js': '.mjs' },
    bundle: true,
    packages: 'external',
    platform: 'node',
    target: 'node20',
    format: 'esm',
    banner: { js: "import { createRequire as bundleRequire } from 'node:module'; const require = bundleRequire(import.meta.url);" },
  })
  stage = openStage()
  await makeCampaign(stage)
  dir = mkdtempSync(join(tmpdir(), 'tagstrip-written-'))
  chmodSync(dir, 0o755)
  const picture = sharp({ create: { width: 20, height: 10, channels: 3, background: '#97461a' } })
  await stage.house.photographs.keep(await picture.png().toBuffer())
  pack = await packInto(join(dir, 'made-here.zip'), stage)
})
afterAll(() => {
  stage.close()
  rmSync(dir, { recursive: true, force: true })
  rmSync(bundles, { recursive: true, force: true })
})

/** Runs a program with nothing masked, and answers what it said. */
function run(dataDir: string, program: string, ...words: string[]): string {
  const { stdout, stderr } = spawnSync(
    '/bin/sh',
    ['-c', 'umask 000; exec "$@"', 'sh', process.execPath, join(bundles, program), ...words],
    {
      cwd: root,
      encoding: 'utf8',
      timeout: 60_000,
      env: { ...process.env, DATA_DIR: dataDir, PORT: '1', NODE_ENV: 'production', NEXT_DIST_DIR: '.next-that-is-not-there' },
    },
  )
  return stdout + stderr
}

const all = (path: string): string[] =>
  lstatSync(path).isDirectory() ? [path, ...readdirSync(path).flatMap((name) => all(join(path, name)))] : [path]
const wideIn = (path: string) => all(path).filter((one) => (lstatSync(one).mode & 0o077) !== 0)

test('backup and restore write for the owner alone, also what was wide where it came from', () => {
  const into = join(dir, 'copies')
  for (const path of all(stage.dir)) chmodSync(path, lstatSync(path).isDirectory() ? 0o755 : 0o644)
  expect(run(stage.dir, 'keep.mjs', 'backup', into)).toContain('Copied to')
  const [name = ''] = readdirSync(into)
  expect(wideIn(into)).toEqual([])
  expect(all(into).length).toBeGreaterThan(8)
  for (const path of all(into)) chmodSync(path, lstatSync(path).isDirectory() ? 0o755 : 0o644)
  const target = join(dir, 'restored')
  expect(run(target, 'keep.mjs', 'restore', join(into, name))).toContain('Restored into')
  expect(wideIn(target)).toEqual([])
  expect(all(target).length).toBeGreaterThan(6)
})

test('pack and unpack write for the owner alone', () => {
  const file = join(dir, 'campaign.zip')
  expect(run(stage.dir, 'keep.mjs', 'pack', file)).toContain('SHA-256')
  expect(wideIn(file)).toEqual([])
  const target = join(dir, 'unpacked')
  expect(run(target, 'keep.mjs', 'unpack', pack)).toContain(`is in ${target}`)
  expect(wideIn(target)).toEqual([])
  expect(all(target).length).toBeGreaterThan(6)
})

test('the house itself writes for its owner alone, in a folder that others may enter', () => {
  const target = join(dir, 'house')
  mkdirSync(target)
  chmodSync(target, 0o755)
  // It has no pages here, so it stops once its data folder is made.
  run(target, 'server.mjs')
  expect(readdirSync(target)).toEqual(expect.arrayContaining(['keys', 'photographs', 'tagstrip.db']))
  expect(wideIn(target)).toEqual([])
})
