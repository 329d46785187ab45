import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest'
import { ADDRESSES } from '#doors/web/addresses'
import { addressAsked } from '#doors/web/asked'
import { EVERYBODY, openOddCaller } from '#test/attacks/odd-caller'
import { makeOpenLot } from '#test/make/lot'
import { openStage, type Stage } from '#test/stage'
import { speak, statusesOf } from './raw'

let stage: Stage
let caller: Awaited<ReturnType<typeof openOddCaller>>
let lot = 0
beforeAll(async () => {
  stage = openStage()
  lot = (await makeOpenLot(stage)).number
  caller = await openOddCaller(stage)
  await caller.signIn()
})
afterAll(() => {
  caller.close()
  stage.close()
})

const LEAK = /\n\s+at |node_modules|SQLITE_|\.[mc]?[jt]sx?:\d+/

describe('what a request line asks for', () => {
  test.each([
    ['/', '/'],
    ['/lots/7?a=b', '/lots/7'],
    ['/lots//7', '/lots//7'],
    ['/a/../lots', '/lots'],
    ['http://elsewhere.example/lots/7', '/lots/7'],
    ['https://elsewhere.example', '/'],
    ['/%20', '/%20'],
    ['/?next=//elsewhere.example', '/'],
    ['/é', '/%C3%A9'],
  ])('%s is read as %s', (line, path) => {
    expect(addressAsked(line)?.pathname).toBe(path)
  })

  test.each([
    '//',
    '//elsewhere.example/lots',
    '/\\elsewhere.example',
    'http://[',
    '*',
    'elsewhere.example:443',
    'ftp://a/b',
    'javascript:alert(1)',
    '/%',
    '/%E0%A4%A',
    '/%00',
    '/a%00b',
    '/.//elsewhere.example',
    `/${'a'.repeat(9000)}`,
  ])('%s is no address of this house', (line) => {
    expect(addressAsked(line)).toBeNull()
  })
})

describe('lines that no browser writes', () => {
  const host = 'Host: bench.example'
  const LINES: string[] = [
    'GET // HTTP/1.1',
    'GET //elsewhere.example/%2e%2e HTTP/1.1',
    'GET http://[ HTTP/1.1',
    'GET http://[::1 HTTP/1.1',
    'GET http://elsewhere.example/api/health HTTP/1.1',
    'GET * HTTP/1.1',
    'OPTIONS * HTTP/1.1',
    'GET /% HTTP/1.1',
    'GET /%00 HTTP/1.1',
    'GET /\\elsewhere.example HTTP/1.1',
    'GET /api/trpc/ HTTP/1.1',
    'GET /api/trpc/%00 HTTP/1.1',
    'GET /api/trpc/__proto__ HTTP/1.1',
    'GET /api/trpc/constructor HTTP/1.1',
    'GET /api/trpc/toString?input=1 HTTP/1.1',
    'GET /api/trpc/people.__proto__ HTTP/1.1',
    'GET /api/trpc/bidding.frames?input=%E0%A4%A HTTP/1.1',
    'GET /api/trpc/bidding.frame?input={"lot":1e999} HTTP/1.1',
    'GET /api/trpc/bidding.frame?input=%7B%22lot%22%3A1%7D&input=2 HTTP/1.1',
    'HEAD /api/trpc/bidding.frames HTTP/1.1',
    'PUT /api/trpc/bidding.frames HTTP/1.1',
    'DELETE /lots/1/history.json HTTP/1.1',
    'PATCH /live HTTP/1.1',
    'PURGE / HTTP/1.1',
    'TRACE / HTTP/1.1',
    'CONNECT elsewhere.example:443 HTTP/1.1',
    'GET /live?topics=%00 HTTP/1.1',
    'GET /live?topics=lot:__proto__ HTTP/1.1',
    'GET /live?topics=unit:%F0%9F%94%A7,lot:1e9,lot:-1,search:x HTTP/1.1',
    'POST /files/photographs HTTP/1.1',
    'GET /files/photographs HTTP/1.1',
    'GET /files/%2e%2e%2ftagstrip.db HTTP/1.1',
    'GET /bench/close-out/packs/..%2f..%2ftagstrip.db.zip HTTP/1.1',
    'GET /_next/image?url=http://elsewhere.example HTTP/1.1',
    'GET /lots/1e3/history.json HTTP/1.1',
    'GET /lots/99999999999999999999/history.json HTTP/1.1',
    `GET /${'a/'.repeat(3500)} HTTP/1.1`,
    `GET /lots.json?${'a=b&'.repeat(1800)} HTTP/1.1`,
    'GET / HTTP/0.9',
    'GET / HTTP/2.0',
    'get / http/1.1',
    'GARBAGE',
    '\0\0\0\0',
    'GET /\u0000 HTTP/1.1',
  ]
  const HEADS: string[][] = [
    [host, 'Cookie: =;;;=; tagstrip.session_token=%E0%A4%A; __Host-tagstrip-browser'],
    [host, `Cookie: __Secure-tagstrip.session_token=${'%41'.repeat(2000)}`],
    [host, 'Last-Event-ID: 1e309'],
    [host, 'Range: bytes=9-1,-,a-b', 'If-None-Match: *'],
    [host, 'X-Forwarded-For: ,,,', 'X-Forwarded-For: ::::::%%%%'],
    [host, 'Origin: http://[', 'Sec-Fetch-Site: \u00ff'],
    [host, 'Content-Type: application/json', 'Content-Length: 5'],
    [host, 'Content-Type: application/json', 'Content-Length: -1'],
    [host, 'Content-Length: 3', 'Transfer-Encoding: chunked'],
    [host, 'Transfer-Encoding: gzip'],
    [host, 'Upgrade: websocket', 'Connection: Upgrade', 'Sec-WebSocket-Version: 13', 'Sec-WebSocket-Key: AAAAAAAAAAAAAAAAAAAAAA=='],
    [host, 'Upgrade: h2c', 'Connection: Upgrade, HTTP2-Settings'],
    [host, 'Expect: 100-continue'],
    [host, 'Expect: something-else'],
    ['Host: ', 'Host: elsewhere.example'],
    [host, `X-Long: ${'a'.repeat(20_000)}`],
    [host, 'Bad Header: a'],
    [host, 'User-Agent: \u0001\u0002'],
  ]

  test('none is answered above 499, with a stack or with anything logged as failed, and the house goes on', async () => {
    const failed = vi.spyOn(stage.house.log, 'error')
    const asked = [
      ...LINES.map((line) => [line, host]),
      ...HEADS.flatMap((head) =>
        ['/lots.json', '/live?topics=lots', '/api/trpc/bidding.frames', '/nothing'].map((path) => [`GET ${path} HTTP/1.1`, ...head]),
      ),
      ...HEADS.map((head) => ['POST /api/trpc/people.signOut HTTP/1.1', ...head]),
    ]
    const flaws: string[] = []
    for (const lines of asked) {
      const heard = await speak(caller.door.port, [`${lines.join('\r\n')}\r\n\r\n`], { quietMs: 120 })
      const what = JSON.stringify(lines).slice(0, 200)
      if (statusesOf(heard).some((status) => status > 499)) flaws.push(`${what}: ${heard.slice(0, 200)}`)
      if (LEAK.test(heard)) flaws.push(`${what} told ${heard.slice(0, 400)}`)
      for (const [said] of failed.mock.calls) flaws.push(`${what} was logged as failed: ${String((said as { err?: unknown }).err)}`)
      failed.mockClear()
    }
    failed.mockRestore()
    expect(flaws).toEqual([])
    expect((await fetch(`${caller.door.url}/api/health`)).status).toBe(200)
  }, 120_000)
})

test('a page is read and takes nothing: it is not even asked', async () => {
  for (const method of ['POST', 'PUT', 'PATCH', 'DELETE', 'OPTIONS']) {
    const answer = await fetch(`${caller.door.url}/lots/1`, { method, headers: { 'next-action': 'a'.repeat(40) } })
    expect(answer.status, method).toBe(404)
    expect(await answer.text(), method).not.toContain('a page')
  }
})

describe('every address', () => {
  const POISON = [
    '%00',
    '%F0%9F%94%A7',
    '%ED%A0%80',
    '..',
    '%2e%2e',
    '%2f',
    '-1',
    '0',
    '1e9',
    '9'.repeat(40),
    'constructor',
    '__proto__',
    '%27%3B--',
    '%EF%BC%91',
    'x'.repeat(3000),
    'TERN-99',
    'TS-2027-0147-M',
    '%E2%80%AE1',
    ' ',
    '%0d%0aX-Injected:1',
  ]
  const QUERIES = [
    '',
    '?paper=letter',
    '?paper=%00&of=bag&skip=-1',
    '?skip=1e9',
    '?skip=NaN&paper=__proto__',
    `?paper=${'x'.repeat(3000)}`,
    '?size=&size=&of=',
    '?%',
  ]

  test.each(ADDRESSES.map(({ path }) => path))(
    '%s answers whatever stands in it in words',
    async (path) => {
      const failed = vi.spyOn(stage.house.log, 'error')
      const names = path.match(/:\w+/g) ?? []
      const filled = (value: string) => names.reduce((made, name) => made.replace(name, value), path)
      const asked = [
        ...POISON.map(filled),
        ...['1', String(lot), 'TERN-03', 'tern-03'].flatMap((value) => QUERIES.map((query) => filled(value) + query)),
      ]
      for (const address of asked) {
        for (const who of EVERYBODY) {
          // Rendering papers takes its time; of those each is asked for once.
          if (path.endsWith('.pdf') && who !== 'maker' && who !== 'visitor') continue
          const { status, text } = await caller.get(address.replaceAll(' ', '%20'), who)
          expect(
            `${address.slice(0, 80)} as ${who}: ${status > 499 || LEAK.test(text) ? `${status} ${text.slice(0, 200)}` : 'in words'}`,
          ).toMatch(/in words$/)
        }
      }
      expect(failed.mock.calls.map(([said]) => String((said as { err?: unknown }).err))).toEqual([])
      failed.mockRestore()
    },
    120_000,
  )
})
