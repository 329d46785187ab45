import { Agent, request } from 'node:http'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { listBidsOfLot } from '#sale/bids/bids.store'
import { findLot } from '#sale/lots/lots.service'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { openStage, type Stage } from '#test/stage'
import { openStageDoor } from './open-door'

let stage: Stage
let door: Awaited<ReturnType<typeof openStageDoor>>
let lot: number
const lines = new Agent({ keepAlive: true, maxSockets: 200 })
beforeEach(async () => {
  stage = openStage()
  lot = (await makeOpenLot(stage)).number
  door = await openStageDoor(stage)
})
afterEach(() => {
  lines.destroy()
  door.close()
  stage.close()
})

interface Answer {
  status: number
  headers: Record<string, unknown>
  body: string
}
const ask = (path: string, method = 'GET', body?: object, cookie = '') =>
  new Promise<Answer>((resolve, reject) => {
    const headers = { cookie, 'content-type': 'application/json', origin: 'https://bench.example', host: 'bench.example' }
    const asked = request(`${door.url}${path}`, { method, agent: lines, headers }, (answer) => {
      let text = ''
      answer.on('data', (part: Buffer) => {
        text += part
      })
      answer.on('end', () => resolve({ status: answer.statusCode ?? 0, headers: answer.headers, body: text }))
      answer.on('error', reject)
    })
    asked.on('error', reject)
    asked.end(body && JSON.stringify(body))
  })

test('a house that is told to end answers every bid that was under way, and each that it took is kept', async () => {
  const cookies = []
  for (const name of ['Ada', 'Ben', 'Cai', 'Dot', 'Eve', 'Fay', 'Gus', 'Hal']) {
    await makeBidder(stage, name)
    cookies.push(await door.sessionOf((await stage.actor('bidder', name)).personId))
  }
  // Lines that are open already, as those of pages are.
  await Promise.all(Array.from({ length: 48 }, () => ask('/api/now')))
  const bids = cookies.flatMap((cookie, n) =>
    Array.from({ length: 6 }, (_, round) =>
      ask(
        '/api/trpc/bidding.place',
        'POST',
        { lot, key: `bid-${n}-${round}-of-the-last-second`, maximum: String(40 + round * 40 + n * 5) },
        cookie,
      ),
    ),
  )
  // So that they are under way: the first has been answered.
  await Promise.race(bids)
  await door.leave()
  const answers = await Promise.all(bids)
  expect(new Set(answers.map(({ status }) => Math.floor(status / 100)))).not.toContain(5)
  const { id } = findLot(stage.sight(), lot) ?? { id: '' }
  const taken = answers.filter(({ status }) => status === 200)
  expect(taken.length).toBeGreaterThan(1)
  expect(listBidsOfLot(stage.db, id).length).toBe(taken.length)
})

test('what comes on a line that is still open is told to come again, in words', async () => {
  await ask('/api/now')
  const left = door.leave()
  const late = await ask('/api/trpc/bidding.place', 'POST', { lot })
  expect(late).toMatchObject({ status: 503, headers: { 'retry-after': '3', connection: 'close' } })
  expect(late.headers).toMatchObject({ 'x-content-type-options': 'nosniff', 'content-security-policy': expect.any(String) })
  expect(late.body).toContain('try again in a few seconds')
  await left
})

test('readers of a stream are sent away with when to come back', async () => {
  const heard = await new Promise<() => string>((resolve, reject) => {
    let text = ''
    const asked = request(`${door.url}/live?topics=lots`, (answer) => {
      answer.on('data', (part: Buffer) => {
        text += part
        resolve(() => text)
      })
      answer.on('end', () => {
        text += 'ENDED'
      })
    })
    asked.on('error', reject)
    asked.end()
  })
  await door.leave()
  await expect.poll(heard).toMatch(/retry: [1-4]\d{3}\n\nENDED$/)
})
