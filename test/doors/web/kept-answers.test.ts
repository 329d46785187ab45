import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import { openKeptAnswers } from '#doors/web/kept-answers'
import { readyAnswer } from '#doors/web/ready-answer'
import { makeOpenLot } from '#test/make/lot'
import { openStage, type Stage } from '#test/stage'
import { openStageDoor } from './open-door'

const ready = (words: string) => readyAnswer({ type: 'text/plain', body: Buffer.from(words), keepSeconds: 1 })
const wordsOf = async (one: Awaited<ReturnType<ReturnType<typeof openKeptAnswers>['get']>>) =>
  one && Buffer.from(await one.body('identity')).toString()

describe('what many ask for at once', () => {
  let changes = 0
  let now = 0
  const kept = () => openKeptAnswers({ changes: () => changes, now: () => now })
  beforeEach(() => {
    changes = 0
    now = 0
  })

  test('is made once, also while it is still being made', async () => {
    const answers = kept()
    const make = vi.fn(async () => ready('made'))
    const all = await Promise.all(Array.from({ length: 50 }, () => answers.get('a', make)))
    expect(new Set(await Promise.all(all.map(wordsOf)))).toEqual(new Set(['made']))
    expect(make).toHaveBeenCalledTimes(1)
  })

  test('is made anew once anything was written, and after a second', async () => {
    const answers = kept()
    const make = vi.fn(async () => ready('made'))
    await answers.get('a', make)
    changes++
    await answers.get('a', make)
    now += 999
    await answers.get('a', make)
    expect(make).toHaveBeenCalledTimes(2)
    now += 1
    await answers.get('a', make)
    expect(make).toHaveBeenCalledTimes(3)
  })

  test('is tried again where it failed', async () => {
    const answers = kept()
    await expect(answers.get('a', () => Promise.reject(new Error('the press is out of paper')))).rejects.toThrow('out of paper')
    expect(await wordsOf(await answers.get('a', async () => ready('made')))).toBe('made')
  })

  test('is forgotten where there is too much of it: no more than two hundred are kept', async () => {
    const answers = kept()
    const make = vi.fn(async () => ready('made'))
    for (let n = 0; n < 300; n++) await answers.get(`/units/${n}`, make)
    make.mockClear()
    await answers.get('/units/299', make)
    expect(make).not.toHaveBeenCalled()
    await answers.get('/units/0', make)
    expect(make).toHaveBeenCalledTimes(1)
  })
})

describe('at the door', () => {
  let stage: Stage
  let door: Awaited<ReturnType<typeof openStageDoor>>
  beforeEach(async () => {
    stage = openStage()
    door = await openStageDoor(stage)
  })
  afterEach(() => {
    door.close()
    stage.close()
  })

  test('a hundred readers of a history have it worked out once, whatever they write behind the question mark', async () => {
    const { number } = await makeOpenLot(stage)
    const read = vi.spyOn(stage.house, 'sight')
    await Promise.all(
      Array.from({ length: 100 }, (_, n) => fetch(`${door.url}/lots/${number}/history.json?n=${n}`).then((answer) => answer.text())),
    )
    expect(read).toHaveBeenCalledTimes(1)
  })

  test('one thing is kept once, however its number is spelt', async () => {
    const { number } = await makeOpenLot(stage)
    const spelt = [...String(number)].map((digit) => `%3${digit}`).join('')
    const read = vi.spyOn(stage.house, 'sight')
    const asked = [String(number), spelt].map((lot) => fetch(`${door.url}/lots/${lot}/history.json`).then((answer) => answer.text()))
    const [plain, other] = await Promise.all(asked)
    expect(other).toBe(plain)
    expect(read).toHaveBeenCalledTimes(1)
  })

  test('what was bid stands in the very next answer', async () => {
    const { number } = await makeOpenLot(stage)
    const bids = async () => ((await (await fetch(`${door.url}/lots.json`)).json()) as { lots: { bids: number }[] }).lots[0]?.bids
    expect(await bids()).toBe(0)
    const ada = await stage.as('bidder', 'Ada')
    await ada.people.takePaddle({ name: 'Ada', country: 'GB', acceptsRules: true })
    await ada.bidding.place({ lot: number, key: 'the-first-bid-of-all', maximum: '40' })
    expect(await bids()).toBe(1)
  })

  test('a history goes out packed as its reader takes it, and not again to who has it', async () => {
    const { number } = await makeOpenLot(stage)
    const path = `${door.url}/lots/${number}/history.json`
    const plain = await fetch(path, { headers: { 'accept-encoding': 'identity' } })
    const text = await plain.text()
    expect(plain.headers.get('content-encoding')).toBeNull()
    for (const packing of ['br', 'gzip']) {
      const packed = await fetch(path, { headers: { 'accept-encoding': packing } })
      expect(packed.headers.get('content-encoding')).toBe(packing)
      expect(Number(packed.headers.get('content-length'))).toBeLessThan(Buffer.byteLength(text) * 0.7)
      expect(packed.headers.get('vary')).toContain('Accept-Encoding')
      expect(await packed.text()).toBe(text)
      const etag = packed.headers.get('etag') ?? ''
      const again = await fetch(path, { headers: { 'accept-encoding': packing, 'if-none-match': etag } })
      expect([again.status, await again.text()]).toEqual([304, ''])
    }
    const etag = plain.headers.get('etag') ?? ''
    const ada = await stage.as('bidder', 'Ada')
    await ada.people.takePaddle({ name: 'Ada', country: 'GB', acceptsRules: true })
    await ada.bidding.place({ lot: number, key: 'another-bid-than-before', maximum: '40' })
    expect((await fetch(path, { headers: { 'accept-encoding': 'identity', 'if-none-match': etag } })).status).toBe(200)
  })

  test('what only some may have is made for each who asks', async () => {
    const { number } = await makeOpenLot(stage)
    const path = `${door.url}/bench/lots/${number}/packing.pdf`
    expect((await fetch(path)).status).toBe(401)
    const cookie = await door.sessionOf((await stage.actor('maker')).personId)
    expect((await fetch(path, { headers: { cookie } })).status).toBe(200)
    expect((await fetch(path)).status).toBe(401)
  })
})
