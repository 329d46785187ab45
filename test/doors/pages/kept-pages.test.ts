import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import { type KeptPages, openKeptPages } from '#doors/pages/kept-pages'
import type { MadePage, PageOrder } from '#doors/pages/made-page'
import type { Recorded } from '#runtime/queue/queue'

const page = (words: string, status = 200): MadePage => {
  const body = Buffer.from(words)
  return { status, type: 'text/html', policy: '', etag: words, bodies: { br: body, gzip: body, identity: body } }
}
const fact = (kind: string, subject: string): Recorded => ({ kind, subject, body: {}, seq: 1, at: 0 })
const anyTurn = async () => () => {}

let said = 'first'
let status = 200
let trouble: string | null = null
const make = vi.fn(async ({ path, trouble: told }: PageOrder): Promise<MadePage | null> => {
  const words = `${path} ${told ?? said}`
  await new Promise((resolve) => setTimeout(resolve, 10))
  return status === 0 ? null : page(words, status)
})
let pages: KeptPages
const read = async (path: string, asker = 'a') => {
  const found = await pages.get(path, asker, anyTurn)
  return typeof found === 'object' && found ? found.etag : found
}

beforeEach(() => {
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout', 'performance'] })
  said = 'first'
  status = 200
  trouble = null
  make.mockClear()
  pages = openKeptPages({ shop: { make, close: () => {} }, now: () => 0, trouble: () => trouble })
})
afterEach(() => vi.useRealTimers())

const soon = async <T>(asked: Promise<T>, ms = 500): Promise<T> => {
  await vi.advanceTimersByTimeAsync(ms)
  return asked
}

describe('a page that many ask for', () => {
  test('is made once, and given to all', async () => {
    const all = await soon(Promise.all(Array.from({ length: 200 }, (_, n) => read('/lots/5', `asker ${n % 7}`))), 50)
    expect(new Set(all)).toEqual(new Set(['/lots/5 first']))
    expect(make).toHaveBeenCalledTimes(1)
  })

  test('is never older than what had happened when it was asked for', async () => {
    await soon(read('/lots/5'))
    said = 'second'
    pages.touch([fact('campaign.changed', 'campaign')])
    expect(await soon(read('/lots/5'))).toBe('/lots/5 second')
    const while2 = read('/lots/5')
    said = 'third'
    pages.touch([fact('lot.closed', 'lot:5')])
    // It was being given as it was; whoever asks now waits for what it is.
    expect(await soon(while2, 0)).toBe('/lots/5 second')
    expect(await soon(read('/lots/5'))).toBe('/lots/5 third')
  })

  test('says while the house takes nothing, and no longer than that', async () => {
    await soon(read('/lots/5'))
    trouble = 'the disk is full'
    expect(await soon(read('/lots/5'))).toBe('/lots/5 the disk is full')
    trouble = null
    expect(await soon(read('/lots/5'))).toBe('/lots/5 first')
  })

  test('that something happens to while it is made is made again for whoever asks then', async () => {
    const before = read('/lots/5')
    await vi.advanceTimersByTimeAsync(5)
    said = 'second'
    pages.touch([fact('lot.bid', 'lot:5')])
    const after = read('/lots/5')
    expect(await soon(before)).toBe('/lots/5 first')
    expect(await after).toBe('/lots/5 second')
  })

  test('is made at most every 100 ms, however much happens', async () => {
    await soon(read('/lots/5'), 50)
    make.mockClear()
    for (let ms = 0; ms < 1_000; ms += 5) {
      said = `after ${ms}`
      pages.touch([fact('lot.bid', 'lot:5')])
      void read('/lots/5')
      await vi.advanceTimersByTimeAsync(5)
    }
    expect(make.mock.calls.length).toBeGreaterThan(5)
    expect(make.mock.calls.length).toBeLessThanOrEqual(11)
    expect(await soon(read('/lots/5'))).toBe('/lots/5 after 995')
  })

  test('is left as it is by a bid that it does not show', async () => {
    await soon(Promise.all(['/lots/5', '/lots/6', '/', '/units/TERN-05', '/certificates/TS-1'].map((path) => read(path))), 50)
    make.mockClear()
    said = 'after the bid'
    pages.touch([fact('lot.bid', 'lot:5')])
    const seen = await soon(Promise.all(['/lots/5', '/lots/6', '/', '/units/TERN-05', '/certificates/TS-1'].map((path) => read(path))), 200)
    expect(seen).toEqual(['/lots/5 after the bid', '/lots/6 first', '/ after the bid', '/units/TERN-05 first', '/certificates/TS-1 first'])
    said = 'extended'
    pages.touch([fact('lot.bid', 'lot:5'), fact('lot.extended', 'lot:5')])
    expect(await soon(read('/lots/6'))).toBe('/lots/6 extended')
  })

  test('shows the time: after a second it is made anew beside, and nobody is given one of two seconds ago', async () => {
    await soon(read('/'), 50)
    said = 'later'
    await vi.advanceTimersByTimeAsync(1_000)
    expect(await soon(read('/'), 0)).toBe('/ first')
    await vi.advanceTimersByTimeAsync(50)
    expect(await soon(read('/'), 0)).toBe('/ later')
    said = 'much later'
    await vi.advanceTimersByTimeAsync(5_000)
    expect(await soon(read('/'), 50)).toBe('/ much later')
  })

  test('is not kept where there is no such page, nor where it can be given to nobody else', async () => {
    status = 404
    expect(await soon(read('/lots/99'))).toBe('/lots/99 first')
    said = 'listed meanwhile'
    status = 200
    expect(await soon(read('/lots/99'))).toBe('/lots/99 listed meanwhile')
    status = 0
    expect(await soon(read('/lots/98'))).toBe(null)
  })

  test('that could not be made is tried again', async () => {
    make.mockRejectedValueOnce(new Error('the thread died'))
    await expect(read('/')).rejects.toThrow('the thread died')
    expect(await soon(read('/'))).toBe('/ first')
  })
})

describe('pages that are not kept', () => {
  test('wait for the turn of whoever asks, and are refused where too many of theirs wait', async () => {
    expect(await pages.get('/', 'a', async () => null)).toBe('too many')
    const done = vi.fn()
    const waiting = pages.get('/', 'a', async () => done)
    await vi.advanceTimersByTimeAsync(5)
    expect(done).not.toHaveBeenCalled()
    await soon(waiting)
    expect(done).toHaveBeenCalledTimes(1)
  })

  test('do not keep others waiting who want the same from elsewhere', async () => {
    let go = () => {}
    const slow = pages.get('/', 'a', () => new Promise((resolve) => (go = () => resolve(() => {}))))
    expect(await soon(read('/', 'b'), 50)).toBe('/ first')
    go()
    expect(await soon(slow, 50)).toMatchObject({ etag: '/ first' })
    expect(make).toHaveBeenCalledTimes(1)
  })

  test('take no more room than there is', async () => {
    for (let n = 1; n <= 700; n++) await soon(read(`/lots/${n}`), 20)
    make.mockClear()
    await soon(read('/lots/700'), 20)
    expect(make).not.toHaveBeenCalled()
    await soon(read('/lots/1'), 20)
    expect(make).toHaveBeenCalledTimes(1)
    make.mockImplementation(async () => page('x'.repeat(6_000_000)))
    for (let n = 1; n <= 10; n++) await soon(read(`/units/T-${n}`), 20)
    make.mockClear()
    await soon(read('/units/T-1'), 20)
    expect(make).toHaveBeenCalledTimes(1)
  })
})
