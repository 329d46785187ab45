import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { appendFileSync, cpSync, existsSync, mkdirSync, mkdtempSync, readdirSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { build } from 'esbuild'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { openDatabase } from '#db/open'
import { standingIn, stepsIn, wordsOfStep } from '#db/steps'
import { listCopies } from '#runtime/disk/manifest'
import { sweepParts } from '#runtime/disk/thin-backups'
import { MIGRATIONS } from '#test/make/packed'
import { buildThen, recordedLines, SEALING, schemaFrom, shapeOf } from './earlier-schemas'

// A program that changes the database is killed in the middle, in each step that it takes and at any other moment: the old
// schema or the new one stands there, whole, and the next program opens it. KILLS=100 tries all of them.

const KILLS = Number(process.env.KILLS ?? 4)
const lines = process.env.KILLS ? recordedLines() : [recordedLines().at(-5) ?? '']

const dist = mkdtempSync(join(import.meta.dirname, '..', '..', 'node_modules', '.steps-'))
const dir = mkdtempSync(join(tmpdir(), 'tagstrip-killed-'))
const program = join(dist, 'stepping-house.mjs')
const now = new Set(stepsIn(MIGRATIONS).map(wordsOfStep))

beforeAll(async () => {
  await build({
    entryPoints: [join(import.meta.dirname, '..', 'make', 'stepping-house.ts')],
    outfile: program,
    bundle: true,
    packages: 'external',
    platform: 'node',
    target: 'node20',
    format: 'esm',
  })
}, 60_000)
afterAll(() => {
  for (const gone of [dist, dir]) rmSync(gone, { recursive: true, force: true })
})

/** Lets it change the house in `data`; killed after so many milliseconds where that is said. Answers how long it took. */
async function change(data: string, steps: string, killAfterMs?: number): Promise<number> {
  const child = spawn(process.execPath, [program, data, steps], { stdio: ['ignore', 'pipe', 'inherit'] })
  await once(child.stdout, 'data')
  const since = performance.now()
  const killing = killAfterMs === undefined ? undefined : setTimeout(() => child.kill('SIGKILL'), killAfterMs)
  await once(child, 'exit')
  clearTimeout(killing)
  return performance.now() - since
}

function expectOldOrNew(data: string, before: readonly string[]): boolean {
  const file = join(data, 'tagstrip.db')
  // Read as it was left, log and all.
  const left = join(data, 'left')
  mkdirSync(left)
  for (const end of ['', '-wal']) if (existsSync(file + end)) cpSync(file + end, join(left, `tagstrip.db${end}`))
  const handle = new Database(join(left, 'tagstrip.db'))
  const taken = new Set((handle.prepare('SELECT name FROM migration').pluck().all() as string[]).map(wordsOfStep))
  expect(handle.pragma('integrity_check', { simple: true })).toBe('ok')
  handle.close()
  rmSync(left, { recursive: true })
  const isNew = taken.size === now.size
  expect([...taken].sort()).toEqual(isNew ? [...now].sort() : [...before].sort())
  return isNew
}

test.each(lines)('%s', { timeout: 3_600_000 }, async (line) => {
  const old = join(dir, 'old')
  mkdirSync(old)
  buildThen(join(old, 'tagstrip.db'), schemaFrom(line))
  const standing = standingIn(join(old, 'tagstrip.db'), MIGRATIONS)
  const before = standing?.taken.map(wordsOfStep) ?? []
  let round = 0
  const laidOut = () => {
    round += 1
    const data = join(dir, `data-${round}`)
    cpSync(old, data, { recursive: true })
    return data
  }
  const kept = laidOut()
  const wholeMs = await change(kept, MIGRATIONS)
  expect(expectOldOrNew(kept, before)).toBe((standing?.missing.length ?? 0) > 0 || now.size === before.length)
  const tried: string[] = []
  const opensNow = (data: string) => {
    const { handle } = openDatabase(join(data, 'tagstrip.db'), MIGRATIONS, SEALING)
    expect(shapeOf(handle).length).toBeGreaterThan(50)
    handle.close()
    sweepParts(join(data, 'backups'), false)
    // What is there is whole.
    expect(listCopies(join(data, 'backups')).length).toBe(existsSync(join(data, 'backups')) ? readdirSync(join(data, 'backups')).length : 0)
    rmSync(data, { recursive: true })
  }
  for (const step of standing?.missing.slice(0, KILLS) ?? []) {
    const steps = join(dir, 'steps')
    cpSync(MIGRATIONS, steps, { recursive: true })
    appendFileSync(join(steps, step), '\nSELECT die();\n')
    const data = laidOut()
    await change(data, steps)
    expect(expectOldOrNew(data, before)).toBe(false)
    // The copy was made first.
    expect(listCopies(join(data, 'backups'))).toHaveLength(1)
    opensNow(data)
    rmSync(steps, { recursive: true })
    tried.push(step)
  }
  for (let kill = 0; kill < KILLS; kill++) {
    const data = laidOut()
    await change(data, MIGRATIONS, (wholeMs * (kill + 0.5)) / KILLS)
    expectOldOrNew(data, before)
    opensNow(data)
  }
  rmSync(kept, { recursive: true })
  rmSync(old, { recursive: true })
})
