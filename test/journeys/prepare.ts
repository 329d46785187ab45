import { spawnSync } from 'node:child_process'
import { mkdirSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { build } from 'esbuild'

export const ROOT = join(import.meta.dirname, '..', '..')
export const TEMPLATE = join(ROOT, 'test-results', 'told')
/** When the story had been told: every house begins then, however late its journey comes. */
export const TOLD_AT = join(ROOT, 'test-results', 'told-at')

/** Bundles the house with a movable clock and tells the story once; every journey starts from a copy. */
export default async function prepare(): Promise<void> {
  await build({
    entryPoints: [join(import.meta.dirname, 'house.ts')],
    outfile: join(ROOT, 'dist', 'journey-house.mjs'),
    bundle: true,
    packages: 'external',
    platform: 'node',
    target: 'node20',
    format: 'esm',
    logLevel: 'warning',
  })
  rmSync(TEMPLATE, { recursive: true, force: true })
  mkdirSync(TEMPLATE, { recursive: true })
  const { status } = spawnSync(process.execPath, ['dist/seed.mjs'], {
    cwd: ROOT,
    stdio: 'inherit',
    env: { ...process.env, DATA_DIR: TEMPLATE, DEMO: '1' },
  })
  if (status !== 0) throw new Error('the story could not be told')
  writeFileSync(TOLD_AT, String(Date.now()))
}
