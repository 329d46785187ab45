import { createServer, type RequestListener, type Server } from 'node:http'
import type { AddressInfo } from 'node:net'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { hasIt, packingFor } from '#doors/pages/packing.rules'
import { openHandOn, sayNotReached } from '#doors/relay/hand-on'
import { type Kept, openKept } from '#doors/relay/kept'
import { endToEnd, shareable, sharedKey } from '#doors/relay/shared.rules'
import { openSharedAnswers } from '#doors/relay/shared-answers'

describe('what may be shared', () => {
  test.each([
    ['public, s-maxage=5', {}, 5_000],
    ['public, max-age=60, s-maxage=5', {}, 5_000],
    ['public, max-age=60', { age: '20' }, 40_000],
    ['public, max-age=31536000, immutable', { vary: 'Accept-Encoding' }, 31_536_000_000],
    ['public, max-age=60', { vary: 'rsc, next-router-state-tree, next-url, Accept-Encoding' }, 60_000],
  ])('%s %o for %i ms', (cacheControl, more, freshMs) => {
    expect(shareable(200, { 'cache-control': cacheControl, ...more })?.freshMs).toBe(freshMs)
  })
  test.each([
    ['nothing said', 200, {}],
    ['private', 200, { 'cache-control': 'private, max-age=60' }],
    ['no-store', 200, { 'cache-control': 'public, no-store, max-age=60' }],
    ['asked again each time', 200, { 'cache-control': 'public, no-cache, max-age=60' }],
    ['without the word public', 200, { 'cache-control': 'max-age=60' }],
    ['with a cookie', 200, { 'cache-control': 'public, max-age=60', 'set-cookie': ['a=b'] }],
    ['differing by something else', 200, { 'cache-control': 'public, max-age=60', vary: 'user-agent' }],
    ['differing by anything', 200, { 'cache-control': 'public, max-age=60', vary: '*' }],
    ['old already', 200, { 'cache-control': 'public, max-age=60', age: '60' }],
    ['not found', 404, { 'cache-control': 'public, max-age=60' }],
  ])('not: %s', (_, status, headers) => {
    expect(shareable(status, headers)).toBeNull()
  })
  test('whoever has a cookie, a pass or wants a part is answered for themselves', () => {
    expect(sharedKey('GET', '/', {})).not.toBeNull()
    for (const headers of [{ cookie: 'a=b' }, { authorization: 'Basic x' }, { range: 'bytes=0-1' }])
      expect(sharedKey('GET', '/', headers)).toBeNull()
    expect(sharedKey('POST', '/', {})).toBeNull()
    for (const part of ['rsc', 'next-url', 'next-x']) expect(sharedKey('GET', '/', { [part]: '1' })).toBeNull()
    expect(sharedKey('GET', `/a?${'b'.repeat(400)}`, {})).toBeNull()
  })
  test('how a reader takes it, whether they have it, and what is between two machines alone', () => {
    expect(packingFor('gzip, deflate, br;q=0')).toBe('gzip')
    expect(packingFor('br;q=1.0, gzip')).toBe('br')
    expect(packingFor(undefined)).toBe('identity')
    expect(hasIt('"a", W/"b"', '"b"')).toBe(true)
    expect(hasIt('"a"', '"b"')).toBe(false)
    expect(endToEnd({ connection: 'close, x-mine', 'x-mine': '1', te: 'trailers', host: 'a' })).toEqual({ host: 'a' })
  })
})

describe('what is kept', () => {
  const one = (more: Partial<Kept> = {}): Kept => ({
    freshMs: 60_000,
    isImmutable: false,
    headers: { 'x-much': 'x'.repeat(1_000) },
    body: Buffer.from(''),
    at: performance.now(),
    seq: 1,
    build: 'one',
    ...more,
  })
  test('has an end, also where no answer has a body, and spellings behind a question mark push out no page', () => {
    const kept = openKept(60_000)
    kept.set('/lots/5\nbr', one())
    for (let n = 0; n < 5_000; n++) kept.set(`/proceeds.json?${n}\nbr`, one())
    // A number can be spelt with percent signs in as many ways as it has digits, and more.
    for (let n = 0; n < 5_000; n++) kept.set(`/lots/${[...String(n)].map((digit) => `%3${digit}`).join('')}/history.json\nbr`, one())
    expect(kept.size().entries).toBeLessThanOrEqual(201)
    expect(kept.get('/lots/5\nbr')).toBeDefined()
    for (let n = 0; n < 5_000; n++) kept.set(`/files/${n}\nbr`, one())
    expect(kept.size().entries).toBeLessThanOrEqual(2_200)
  })
  test('heads and keys count as bodies do, and what is of no more use is let go', () => {
    const kept = openKept(1_000)
    kept.set('/b\nbr', one({ at: performance.now() - 70_000 }))
    kept.set('/a\nbr', one())
    expect(kept.size().bytes).toBeGreaterThan(2_000)
    expect(kept.size().entries).toBe(1)
    kept.set('/c\nbr', one())
    expect(kept.get('/b\nbr')).toBeUndefined()
    kept.forget('/a\nbr')
    kept.forget('/c\nbr')
    expect(kept.size()).toEqual({ bytes: 0, entries: 0 })
  })
})

describe('a relay before a house', () => {
  let house: Server
  let relay: Server
  let url: string
  let asked: string[] = []
  let answer: RequestListener
  const standing = { seq: 1, build: 'one' }
  const listen = async (listener: RequestListener) => {
    const server = createServer(listener)
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
    return { server, url: `http://127.0.0.1:${(server.address() as AddressInfo).port}` }
  }
  beforeEach(async () => {
    Object.assign(standing, { seq: 1, build: 'one' })
    asked = []
    const at = await listen((request, response) => {
      asked.push(`${request.method} ${request.url} ${request.headers['if-none-match'] ?? ''}`.trim())
      answer(request, response)
    })
    house = at.server
    const handOn = openHandOn({ url: () => at.url, addressOf: () => '192.0.2.7' })
    const shared = openSharedAnswers({ handOn, standing: () => standing })
    const before = await listen((request, response) => {
      shared.answer(request, response).catch(() => sayNotReached(response))
    })
    relay = before.server
    url = before.url
  })
  afterEach(() => {
    for (const server of [relay, house]) {
      server.closeAllConnections()
      server.close()
    }
  })

  const keepable: RequestListener = (request, response) => {
    const etag = `"of ${standing.seq}"`
    const headers = { 'cache-control': 'public, s-maxage=5', etag, 'content-security-policy': "default-src 'self'" }
    if (request.headers['if-none-match'] === etag) response.writeHead(304, headers).end()
    else
      response
        .writeHead(200, { ...headers, 'content-type': 'text/html' })
        .end(`<p>of ${standing.seq}, for ${request.headers['x-forwarded-for']}</p>`)
  }

  test('the house is asked once, however many ask at once, and not again while nothing happened', async () => {
    answer = (request, response) => void setTimeout(() => keepable(request, response), 50)
    const texts = await Promise.all(Array.from({ length: 40 }, async () => (await fetch(`${url}/lots/1`)).text()))
    expect(new Set(texts)).toEqual(new Set(['<p>of 1, for 192.0.2.7</p>']))
    const again = await fetch(`${url}/lots/1`)
    expect(asked).toEqual(['GET /lots/1'])
    expect(again.headers.get('content-security-policy')).toBe("default-src 'self'")
    expect(again.headers.get('age')).toBe('0')
    expect((await fetch(`${url}/lots/1`, { headers: { 'if-none-match': '"of 1"' } })).status).toBe(304)
    expect((await fetch(`${url}/lots/1`, { method: 'HEAD' })).headers.get('content-length')).toBe('26')
    expect(asked.length).toBe(1)
  })

  test('when something has happened it is asked whether that is still so, and what is new is given', async () => {
    answer = keepable
    await fetch(`${url}/lots/1`)
    standing.seq = 2
    await new Promise((resolve) => setTimeout(resolve, 120))
    expect(await (await fetch(`${url}/lots/1`)).text()).toContain('of 2')
    expect(asked).toEqual(['GET /lots/1', 'GET /lots/1 "of 1"'])
  })

  test('a page is never older than what a screen was told, not for a moment; data may be for a tenth of a second', async () => {
    answer = keepable
    await fetch(`${url}/lots/1`)
    standing.seq = 2
    expect(await (await fetch(`${url}/lots/1`)).text()).toContain('of 2')
    // One that is under way was asked for before what happened then.
    answer = (request, response) => {
      const { seq } = standing
      setTimeout(
        () => response.writeHead(200, { 'cache-control': 'public, s-maxage=5', 'content-type': 'text/html' }).end(`page of ${seq}`),
        30,
      )
      request.resume()
    }
    const before = fetch(`${url}/lots/3`)
    await new Promise((resolve) => setTimeout(resolve, 10))
    standing.seq = 3
    expect(await (await fetch(`${url}/lots/3`)).text()).toBe('page of 3')
    expect(await (await before).text()).toBe('page of 2')
    answer = (_, response) =>
      void response.writeHead(200, { 'cache-control': 'public, max-age=5', 'content-type': 'application/json' }).end(`${standing.seq}`)
    expect(await (await fetch(`${url}/lots.json`)).text()).toBe('3')
    standing.seq = 4
    expect(await (await fetch(`${url}/lots.json`)).text()).toBe('3')
    await new Promise((resolve) => setTimeout(resolve, 110))
    expect(await (await fetch(`${url}/lots.json`)).text()).toBe('4')
  })

  test('of another build nothing is given that was kept, nor asked after', async () => {
    answer = keepable
    await fetch(`${url}/lots/1`)
    standing.build = 'two'
    await (await fetch(`${url}/lots/1`)).text()
    expect(asked).toEqual(['GET /lots/1', 'GET /lots/1'])
  })

  test('what is one person’s own is never kept, and goes to nobody else who asks at the same moment', async () => {
    let n = 0
    answer = (_, response) => {
      n += 1
      const mine = n
      setTimeout(() => response.writeHead(200, { 'cache-control': 'no-store' }).end(`for number ${mine}`), 30)
    }
    const texts = await Promise.all(Array.from({ length: 10 }, async () => (await fetch(`${url}/me`)).text()))
    expect(new Set(texts).size).toBe(10)
    answer = keepable
    await fetch(`${url}/lots/2`)
    await (await fetch(`${url}/lots/2`, { headers: { cookie: 'session=1' } })).text()
    expect(asked.filter((line) => line.includes('/lots/2')).length).toBe(2)
  })

  test('what one asks with, or how often, turns the memory off for nobody else', async () => {
    answer = (request, response) => {
      if (request.headers['next-x'] || request.headers['user-agent'] === 'too-many')
        response.writeHead(request.headers['next-x'] ? 200 : 429, { 'cache-control': 'no-store' }).end('for you alone')
      else keepable(request, response)
    }
    const oneAndAll = async (headers: Record<string, string>, method = 'GET') => {
      asked = []
      await (await fetch(`${url}/lots/5`, { headers, method })).text()
      for (let n = 0; n < 3; n++) expect(await (await fetch(`${url}/lots/5`)).text()).toContain('of ')
      return asked.length
    }
    expect(await oneAndAll({ 'next-x': '1' })).toBe(2)
    standing.seq = 2
    expect(await oneAndAll({ 'user-agent': 'too-many' })).toBe(2)
    standing.seq = 3
    expect(await oneAndAll({}, 'HEAD')).toBe(2)
    // What is the address's own does.
    answer = (_, response) => void response.writeHead(200, { 'cache-control': 'no-store' }).end('of nobody else')
    standing.seq = 4
    expect(await oneAndAll({})).toBe(4)
  })

  test('while the house is away what is kept is given out for a while, and anything else is refused in words', async () => {
    answer = (request, response) => {
      response.setHeader('cache-control', 'public, s-maxage=1')
      if (request.url === '/lots/1') response.end('kept')
      else response.end()
    }
    await fetch(`${url}/lots/1`)
    house.closeAllConnections()
    house.close()
    await new Promise((resolve) => setTimeout(resolve, 1_050))
    const kept = await fetch(`${url}/lots/1`)
    expect([kept.status, await kept.text(), kept.headers.get('age')]).toEqual([200, 'kept', '1'])
    const other = await fetch(`${url}/lots/2`)
    expect(other.status).toBe(502)
    expect(await other.text()).toContain('cannot be reached')
  })

  test('a body goes on as it comes, and an answer comes back as it is made', async () => {
    answer = (request, response) => {
      response.writeHead(200, { 'cache-control': 'no-store' })
      request.on('data', (part: Buffer) => response.write(`heard ${part.length};`))
      request.on('end', () => response.end('all'))
    }
    const heard = await fetch(`${url}/files/photographs`, { method: 'POST', body: 'x'.repeat(500_000) })
    const text = await heard.text()
    expect(text.endsWith('all')).toBe(true)
    expect([...text.matchAll(/heard (\d+)/g)].reduce((sum, [, n]) => sum + Number(n), 0)).toBe(500_000)
  })
})
