import { type ChildProcess, spawn } from 'node:child_process'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { build } from 'esbuild'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { listBidsOfLot } from '#sale/bids/bids.store'
import { isKeptRight } from '#sale/bids/kept-right.service'
import { checkHistory } from '#sale/history/check-history.rules'
import { readHistory } from '#sale/history/history.service'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { openStage } from '#test/stage'

// A house in a process of its own takes bids as fast as it can and is killed in the middle of it, again and again.
const ROUNDS = 5
const BIDDERS = 48
const dist = mkdtempSync(join(import.meta.dirname, '..', '..', '..', 'node_modules', '.crash-'))
const dir = mkdtempSync(join(tmpdir(), 'tagstrip-crash-'))
let child: ChildProcess | null = null

beforeAll(async () => {
  await build({
    entryPoints: [join(import.meta.dirname, '..', '..', 'make', 'crash-house.ts')],
    outfile: join(dist, 'crash-house.mjs'),
    bundle: true,
    packages: 'external',
    platform: 'node',
    target: 'node20',
    format: 'esm',
  })
}, 60_000)

afterAll(() => {
  child?.kill('SIGKILL')
  for (const gone of [dist, dir]) rmSync(gone, { recursive: true, force: true })
})

/** Runs the house until some bids were acknowledged, and kills it there; the keys that it said were taken. */
async function liveAndDie(round: number, lot: number, acknowledged: number): Promise<string[]> {
  const running = spawn(process.execPath, [join(dist, 'crash-house.mjs'), dir, String(lot), String(round)], {
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  child = running
  let said = ''
  await new Promise<void>((resolve, reject) => {
    running.stdout?.on('data', (part) => {
      said += part
      if (said.split('\n').length > acknowledged) running.kill('SIGKILL')
    })
    running.on('exit', (_, signal) => (signal === 'SIGKILL' ? resolve() : reject(new Error('the house ended by itself'))))
  })
  // The last line may have been cut off in the middle.
  return said.split('\n').slice(0, -1)
}

it('killed in the middle of its bids, the house has every bid that it acknowledged, and histories that hold', async () => {
  const now = Date.now()
  const before = openStage({ now, dir })
  const { number } = await makeOpenLot(before)
  // So many that the bids of one paddle in a minute do not run out before the last round.
  for (let index = 0; index < BIDDERS; index++)
    await makeBidder(before, `Bidder ${'abcdefgh'[index % 8]}${'abcdefgh'[Math.floor(index / 8)]}`)
  await before.command(({ db }) => db.run('UPDATE paddle SET ceiling_minor = 100000000000'))
  before.house.close()
  const taken: string[] = []
  for (let round = 0; round < ROUNDS; round++) {
    taken.push(...(await liveAndDie(round, number, 3 + round * 7)))
    const after = openStage({ now: Date.now(), dir })
    const sight = after.sight()
    const { id } = (await (await after.as('maker')).lots.all()).find((one) => one.number === number) ?? { id: '' }
    const kept = new Set(listBidsOfLot(sight.db, id).map((bid) => bid.id))
    expect(taken.filter((key) => !kept.has(key))).toEqual([])
    expect(isKeptRight(sight, number)).toBe(true)
    expect(checkHistory(JSON.parse(JSON.stringify(readHistory(sight, number)))).filter(({ isSound }) => !isSound)).toEqual([])
    after.house.close()
  }
  expect(taken.length).toBeGreaterThan(50)
}, 120_000)
