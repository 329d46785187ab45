import { mkdtempSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { type NatsCluster, openNatsServers } from '#test/make/nats'
import { freePort, NATS_SERVER } from '#test/make/neighbour'
import { Bidders, buildMachine, copyHouse, liesIn, makeSale, OneMachine, someFolder } from '#test/make/two-machines'

const ROOT = join(import.meta.dirname, '..', '..', '..')
const dist = mkdtempSync(join(ROOT, 'node_modules', '.machines-'))
const folders: string[] = []
const running: OneMachine[] = []
let servers: NatsCluster | null = null
let program = ''

beforeAll(async () => {
  if (NATS_SERVER === null) return
  program = await buildMachine(dist)
  servers = await openNatsServers(1)
}, 60_000)

afterAll(async () => {
  for (const machine of running) await machine.kill()
  await servers?.stop()
  for (const folder of [dist, ...folders]) rmSync(folder, { recursive: true, force: true })
})

const folder = () => {
  const made = someFolder()
  folders.push(made)
  return made
}

async function machine(dir: string, role: 'writer' | 'standby', urls = servers?.urls ?? [], wishes = {}): Promise<OneMachine> {
  const one = new OneMachine(dir, await freePort(), program, role, urls, wishes)
  running.push(one)
  return one
}

describe.skipIf(NATS_SERVER === null)('a second machine stands by', () => {
  test('and goes on when the first is killed, with every bid that was acknowledged', { timeout: 120_000 }, async () => {
    const [first, second] = [folder(), folder()]
    const sale = await makeSale(first, { lots: 2, bidders: 12 })
    const writer = await machine(first, 'writer')
    await writer.isOpen()
    await copyHouse(first, second)
    const other = await machine(second, 'standby')
    await other.stands()
    const bidders = new Bidders(sale, () => [writer.port, other.port], 'takeover')
    bidders.start()
    await expect.poll(() => bidders.taken.length, { timeout: 20_000 }).toBeGreaterThan(60)
    await writer.kill()
    const before = bidders.taken.length
    bidders.firstAfter = { since: performance.now(), took: null }
    await other.isOpen()
    await expect.poll(() => bidders.taken.length, { timeout: 20_000 }).toBeGreaterThan(before + 20)
    await bidders.stop()
    expect(liesIn(second, bidders.taken)).toEqual([])

    // The first one, on its own folder, is told what has happened, and does not open.
    const again = await machine(first, 'writer')
    expect(await again.hear(({ failed }) => failed)).toContain('Another machine writes for this house')
    expect(await again.gone()).toBe(1)
  })
})
