import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, it } from 'vitest'
import { seededChance } from '#kernel/seeded'
import { MEANS, openTurnedHouse, type TurnedByte } from '#test/make/turned-bytes'

/** More by `TURNED=1000 npx vitest …`; each altered row has to be found, whichever it is. */
const TIMES = Number(process.env.TURNED ?? 36)
const SEED = Number(process.env.SEED ?? 7)

it('a byte that is turned in a row of a history is found, and said where', async () => {
  const dir = mkdtempSync(join(tmpdir(), 'tagstrip-turned-'))
  const chance = seededChance(SEED)
  const house = await openTurnedHouse(dir, chance)
  const all: TurnedByte[] = []
  try {
    for (let time = 0; time < TIMES; time++) all.push(house.turn(MEANS[time % MEANS.length] ?? 'the file'))
  } finally {
    house.close()
    rmSync(dir, { recursive: true, force: true })
  }
  const altered = all.filter(({ isAltered }) => isAltered)
  expect(altered.filter(({ said }) => said === null)).toEqual([])
  for (const means of MEANS) expect(altered.some((one) => one.means === means)).toBe(true)
}, 600_000)
