import { request } from 'node:http'
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { makeCampaign } from '#test/make/campaign'
import { openStage, type Stage } from '#test/stage'
import { openStageDoor } from './open-door'

let stage: Stage
let door: Awaited<ReturnType<typeof openStageDoor>>
const open: { close(): void }[] = []
beforeEach(async () => {
  stage = openStage()
  await makeCampaign(stage)
  door = await openStageDoor(stage, { trustedProxy: 'x-forwarded-for' })
})
afterEach(() => {
  for (const one of open.splice(0)) one.close()
  door.close()
  stage.close()
})

/** Opens a stream as a browser at an address would; gives its status, and how to close it. */
const watch = (from: string, topics = 'lots') =>
  new Promise<{ status: number; words: string; close(): void }>((resolve, reject) => {
    const asked = request(`${door.url}/live?topics=${topics}`, { headers: { 'x-forwarded-for': from } }, (answer) => {
      answer.once('data', (part: Buffer) =>
        resolve({ status: answer.statusCode ?? 0, words: part.toString(), close: () => asked.destroy() }),
      )
      answer.on('error', () => {})
    })
    asked.on('error', reject)
    open.push({ close: () => asked.destroy() })
    asked.end()
  })

test('one origin has twenty streams; the next is told so, and another origin is not held up', async () => {
  const streams = []
  for (let n = 0; n < 20; n++) streams.push(await watch('192.0.2.1'))
  expect(streams.map(({ status }) => status)).toEqual(Array.from({ length: 20 }, () => 200))
  const one = await watch('192.0.2.1')
  expect(one.status).toBe(429)
  expect(one.words).toContain('20 screens')
  expect((await watch('192.0.2.2')).status).toBe(200)
  expect(stage.house.hub.watching()).toBe(21)
})

test('whoever closes a stream may open another, and what was refused counts nothing', async () => {
  const streams = []
  for (let n = 0; n < 20; n++) streams.push(await watch('192.0.2.1'))
  for (let n = 0; n < 5; n++) expect((await watch('192.0.2.1')).status).toBe(429)
  streams[3]?.close()
  await expect.poll(() => stage.house.hub.watching()).toBe(19)
  expect((await watch('192.0.2.1')).status).toBe(200)
  expect((await watch('192.0.2.1')).status).toBe(429)
})

test('addresses of one IPv6 line are one origin', async () => {
  for (let n = 0; n < 20; n++) await watch(`2001:db8:1:2::${n}`)
  expect((await watch('2001:db8:1:2:ffff::1')).status).toBe(429)
  expect((await watch('2001:db8:1:3::1')).status).toBe(200)
})

test('a stream follows twelve topics at most, and a stream that was refused is not counted', async () => {
  const topics = (many: number) => Array.from({ length: many }, (_, n) => `lot:${n}`).join(',')
  for (let n = 0; n < 30; n++) expect((await watch('192.0.2.1', topics(13))).status).toBe(400)
  expect((await watch('192.0.2.1', topics(12))).status).toBe(200)
})

test('a page says that it reads, from whichever address, and is answered alike whether there is such a stream or not', async () => {
  const heard = vi.spyOn(stage.house.hub, 'hears')
  for (const stream of ['nobody.knows', ''])
    expect((await fetch(`${door.url}/live/here?stream=${stream}`, { method: 'POST' })).status).toBe(204)
  expect(heard.mock.calls).toEqual([['nobody.knows'], ['']])
  expect((await fetch(`${door.url}/live/here?stream=x`)).status).toBe(404)
})

test('where the system lets few files be open, further screens are turned away with words, and the staff are told what to do', async () => {
  door.close()
  stage.close()
  stage = openStage({ mostOpenFiles: 103 })
  await makeCampaign(stage)
  door = await openStageDoor(stage, { trustedProxy: 'x-forwarded-for' })
  const shellOf = async (role: 'maker' | 'bidder') => (await stage.as(role)).people.shell()
  for (let n = 0; n < 3; n++) expect((await watch(`192.0.2.${n}`)).status).toBe(200)
  expect((await shellOf('maker')).fewFiles).toBeNull()
  const one = await watch('192.0.2.9')
  expect([one.status, one.words]).toEqual([503, expect.stringContaining('More screens are open')])
  expect((await shellOf('maker')).fewFiles).toBe(103)
  expect((await shellOf('bidder')).fewFiles).toBeNull()
  expect((await fetch(`${door.url}/api/health`)).status).toBe(200)
})
