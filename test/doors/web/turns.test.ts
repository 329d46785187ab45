import { afterEach, beforeEach, expect, test } from 'vitest'
import { openTurns } from '#doors/web/turns'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { openStage, type Stage } from '#test/stage'
import { openStageDoor } from './open-door'

const loopTurns = async (times: number) => {
  for (let n = 0; n < times; n++) await new Promise(setImmediate)
}

test('each origin has its turn, however many another has waiting', async () => {
  const turns = openTurns({ atOnce: 1 })
  const order: string[] = []
  const ask = async (from: string) => {
    const done = await turns.take(from)
    order.push(from)
    done?.()
  }
  await Promise.all([...Array.from({ length: 6 }, () => ask('192.0.2.1')), ask('192.0.2.2'), ask('192.0.2.2'), ask('192.0.2.3')])
  expect(order.slice(0, 5).sort()).toEqual(['192.0.2.1', '192.0.2.1', '192.0.2.2', '192.0.2.2', '192.0.2.3'])
})

test('between two turns the loop turns, so that what comes in meanwhile is looked at', async () => {
  const turns = openTurns({ atOnce: 1 })
  let served = 0
  const all = Promise.all(
    Array.from({ length: 50 }, async () => {
      const done = await turns.take('192.0.2.1')
      served += 1
      done?.()
    }),
  )
  const before = served
  await loopTurns(3)
  expect(served - before).toBeLessThanOrEqual(4)
  await all
})

test('one that reads slowly gives its turn on, and of one origin no more than so many wait', async () => {
  const turns = openTurns({ atOnce: 1, mostWaiting: 3, longestMs: 20 })
  const first = await turns.take('192.0.2.1')
  const waiting = [turns.take('192.0.2.1'), turns.take('192.0.2.1'), turns.take('192.0.2.1')]
  expect(await turns.take('192.0.2.1')).toBeNull()
  const other = turns.take('192.0.2.2')
  // The first never says that it is done.
  expect(first).toBeTypeOf('function')
  for (const one of [...waiting, other]) expect(await one).toBeTypeOf('function')
})

let stage: Stage
let door: Awaited<ReturnType<typeof openStageDoor>>
beforeEach(async () => {
  stage = openStage()
})
afterEach(() => stage.close())

test('a bid does not wait for all that a stranger asks for at once', async () => {
  const { number } = await makeOpenLot(stage)
  await makeBidder(stage, 'Ada')
  door = await openStageDoor(stage, { trustedProxy: 'x-forwarded-for' })
  const cookie = await door.sessionOf((await stage.actor('bidder', 'Ada')).personId)
  let served = 0
  const asked = Array.from({ length: 80 }, async () => {
    const { status } = await fetch(`${door.url}/api/trpc/credits.all`, { headers: { 'x-forwarded-for': '192.0.2.1' } })
    served += 1
    return status
  })
  await expect.poll(() => served).toBeGreaterThan(3)
  const before = served
  const bid = await fetch(`${door.url}/api/trpc/bidding.place`, {
    method: 'POST',
    headers: { cookie, origin: 'https://bench.example', 'content-type': 'application/json', 'x-forwarded-for': '192.0.2.2' },
    body: JSON.stringify({ lot: number, key: 'a-bid-among-many-readers', maximum: '50' }),
  })
  expect(bid.status).toBe(200)
  // Whoever asked first was answered a few times meanwhile, not eighty.
  expect(served - before).toBeLessThan(40)
  expect(new Set(await Promise.all(asked))).toEqual(new Set([200]))
  door.close()
})

test('an address that ends like a file and is none waits its turn as a page does, however many are asked for', async () => {
  let made = 0
  let letGo = () => {}
  const held = new Promise<void>((resolve) => {
    letGo = resolve
  })
  door = await openStageDoor(stage, {
    files: { give: async () => false },
    pages: async (_request, response) => {
      made += 1
      await held
      response.writeHead(404).end('a page')
    },
  })
  const asked = Array.from({ length: 300 }, (_, at) => fetch(`${door.url}/nope-${at}.x`).then(({ status }) => status))
  // More than a hundred of one origin do not wait, so somebody is told so before any page has been made.
  expect(await Promise.any(asked.map((one) => one.then((status) => (status === 429 ? status : Promise.reject(status)))))).toBe(429)
  letGo()
  const statuses = await Promise.all(asked)
  expect(statuses.filter((status) => status === 404)).toHaveLength(made)
  expect(made).toBeLessThan(300)
  door.close()
})
