import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { buildStepper, layOutEarlier } from '#test/make/killed-steps'
import { recordedLines } from './earlier-schemas'

// A program that changes the database is killed in the middle, in each step that it takes and at any other moment: the old
// schema or the new one stands there, whole, and the next program opens it. KILLS=100 tries all of them, and the row R13 of
// `npm run ordeal` for as long as it is given.

const KILLS = Number(process.env.KILLS ?? 4)
const lines = process.env.KILLS ? recordedLines() : [recordedLines().at(-5) ?? '']

const dist = mkdtempSync(join(import.meta.dirname, '..', '..', 'node_modules', '.steps-'))
const dir = mkdtempSync(join(tmpdir(), 'tagstrip-killed-'))
let program = ''

beforeAll(async () => {
  program = await buildStepper(dist)
}, 60_000)
afterAll(() => {
  for (const gone of [dist, dir]) rmSync(gone, { recursive: true, force: true })
})

test.each(lines)('%s', { timeout: 3_600_000 }, async (line) => {
  const house = layOutEarlier(join(dir, 'house'), program, line)
  expect(await house.opened()).toBeNull()
  for (const step of house.missing.slice(0, KILLS)) expect(await house.killedIn(step), step).toBeNull()
  for (let kill = 0; kill < KILLS; kill++) expect(await house.killedAfter((kill + 0.5) / KILLS)).toBeNull()
  house.close()
})
