import { spawnSync } from 'node:child_process'
import { existsSync } from 'node:fs'
import { beforeAll, describe, expect, it } from 'vitest'
import { ROWS } from './rows'
import { verdictOf } from './table'
import { runRow } from './trial'

// The rows of `npm run ordeal`, each for a second or two; the whole of it is that command's.

const SEED = 20_270_313
const row = (id: string) => {
  const found = ROWS.find((one) => one.id === id)
  if (!found) throw new Error(`there is no row ${id}`)
  return found
}
async function keeps(id: string, seconds: number) {
  const { result, lie } = await runRow(row(id), { seed: SEED, seconds })
  expect(lie?.message ?? null).toBeNull()
  expect(verdictOf(result)).toBe('kept')
}

it('no two rows have one name', () => {
  expect(new Set(ROWS.map(({ id }) => id)).size).toBe(ROWS.length)
})

// Pages are built after the tests of a clean clone; the house that is served needs them.
describe.skipIf(!existsSync('.next/BUILD_ID'))('the house as it is served', () => {
  beforeAll(() => {
    expect(spawnSync(process.execPath, ['server/house/programs/build.mjs', '--server-only'], { stdio: 'inherit' }).status).toBe(0)
  })

  it('killed, it has what it acknowledged', () => keeps('R1', 3))
  it('asked by many at once, it keeps one order', () => keeps('R6', 4))
  it('asked twice, it does a thing once', () => keeps('R7', 2))
  it('locked out for a moment, it does nothing by halves', () => keeps('R11', 2))
})
