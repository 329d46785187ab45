import { createServer, type Server } from 'node:http'
import { type AddressInfo, connect } from 'node:net'
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { openHandOn, sayNotReached } from '#doors/relay/hand-on'
import { openRelayDoor } from '#doors/relay/relay-door'
import { endToEnd, framingOf } from '#doors/relay/shared.rules'
import { openSharedAnswers } from '#doors/relay/shared-answers'

const SECOND = 'GET /wanted?smuggled HTTP/1.1\r\nHost: x\r\nCookie: a=b\r\n\r\n'
const chunked = { head: 'Transfer-Encoding: chunked\r\n', body: `${SECOND.length.toString(16)}\r\n${SECOND}\r\n0\r\n\r\n` }
const counted = { head: `Content-Length: ${SECOND.length}\r\n`, body: SECOND }

const CASES = ['GET', 'HEAD', 'OPTIONS', 'DELETE', 'POST', 'PATCH'].flatMap((method) =>
  [chunked, counted].flatMap(({ head, body }) =>
    [
      '',
      'Connection: content-length\r\n',
      'Connection: transfer-encoding, keep-alive\r\n',
      'Connection: content-length, transfer-encoding\r\n',
    ].flatMap((connection) =>
      ['Cookie: a=b\r\n', ''].map((cookie) => ({
        method,
        head: `${cookie}${connection}${head}`,
        bytes: `${method} /api/ready HTTP/1.1\r\nHost: localhost\r\n${cookie}${connection}${head}\r\n${body}`,
      })),
    ),
  ),
)
const isRead = (method: string) => method === 'GET' || method === 'HEAD'

/** What is said on one line, byte by byte as it stands here. */
const say = (port: number, bytes: string, enough: (heard: string) => boolean) =>
  new Promise<string>((resolve) => {
    let heard = ''
    const line = connect(port, '127.0.0.1', () => line.write(bytes))
    const over = () => {
      clearTimeout(timer)
      line.destroy()
      resolve(heard)
    }
    const timer = setTimeout(over, 2_000)
    line.on('data', (part) => {
      heard += part
      if (enough(heard)) over()
    })
    line.on('close', over)
    line.on('error', over)
  })

describe('what comes with a request is never a second one', () => {
  let house: Server
  let byDoor: Server
  let byHand: Server
  let asked: string[] = []
  const ends: (() => void)[] = []
  const portOf = (server: Server) => (server.address() as AddressInfo).port
  const listen = async (server: Server) => {
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
    return server
  }
  beforeAll(async () => {
    house = await listen(
      createServer((request, response) => {
        let body = ''
        request.on('data', (part) => {
          body += part
        })
        request.on('end', () => {
          asked.push(`${request.method} ${request.url} ${body.length}`)
          response.writeHead(200, { 'cache-control': 'no-store' }).end('the house')
        })
      }),
    )
    const url = `http://127.0.0.1:${portOf(house)}`
    const receiver = { trouble: () => null, now: () => null, house: () => null, seqNow: () => 0, fan: { watching: () => 0 } }
    const parts = { receiver, trustedProxy: 'none', writerUrl: url, build: 'one', files: {}, openFiles: {}, log: { warn() {} } }
    const door = openRelayDoor(parts as unknown as Parameters<typeof openRelayDoor>[0])
    byDoor = await listen(createServer(door.door))
    const handOn = openHandOn({ url: () => url, addressOf: () => '192.0.2.7' })
    const shared = openSharedAnswers({ handOn, standing: () => ({ seq: 1, build: 'one' }) })
    byHand = await listen(createServer((request, response) => void shared.answer(request, response).catch(() => sayNotReached(response))))
    ends.push(door.close, handOn.close)
  })
  afterAll(() => {
    for (const end of ends) end()
    for (const server of [byDoor, byHand, house]) {
      server.closeAllConnections()
      server.close()
    }
  })
  beforeEach(() => {
    asked = []
  })
  afterEach(() => {
    expect(asked.filter((line) => line.includes('smuggled'))).toEqual([])
  })
  const settled = () => new Promise((resolve) => setTimeout(resolve, 20))

  test.each(CASES)('$method, $head', async ({ method, bytes }) => {
    const heard = await say(portOf(byDoor), bytes, (text) => text.includes('the house') || text.includes('without a body'))
    await settled()
    if (isRead(method)) {
      expect(heard).toMatch(/^HTTP\/1\.1 400 /)
      expect(heard.toLowerCase()).toContain('connection: close')
      expect(asked).toEqual([])
    } else {
      // All of it arrives as the body that it is, by whatever names its head wanted left out.
      expect(heard).toMatch(/^HTTP\/1\.1 200 /)
      expect(asked).toEqual([`${method} /api/ready ${SECOND.length}`])
    }
  })

  test.each(CASES)('and not where the door lets it by: $method, $head', async ({ method, bytes }) => {
    await say(portOf(byHand), bytes, (text) => text.includes('the house') || (method === 'HEAD' && text.includes('\r\n\r\n')))
    await settled()
    expect(asked).toEqual([`${method} /api/ready ${isRead(method) ? 0 : SECOND.length}`])
  })

  test('the line to the house is good for the next reader afterwards', async () => {
    for (const { method, bytes } of CASES.filter((one) => one.method !== 'HEAD')) {
      await say(portOf(byDoor), bytes, (text) => text.includes('the house') || text.includes('without a body'))
      const next = await say(portOf(byDoor), `GET /mine HTTP/1.1\r\nHost: a\r\nCookie: ${method}=1\r\n\r\n`, (text) =>
        text.includes('the house'),
      )
      expect(next).toContain('the house')
      expect(asked.at(-1)).toBe('GET /mine 0')
    }
  })

  test('both ways at once are refused, whoever is asked', async () => {
    const both = `POST /api/ready HTTP/1.1\r\nHost: a\r\n${counted.head}${chunked.head}\r\n${chunked.body}`
    expect(await say(portOf(byDoor), both, () => false)).toMatch(/^HTTP\/1\.1 400 /)
    expect(asked).toEqual([])
  })

  test('an empty body is none: a reader that says its length as 0 is answered', async () => {
    const heard = await say(portOf(byDoor), 'GET /a HTTP/1.1\r\nHost: a\r\nContent-Length: 0\r\n\r\n', (text) => text.includes('the house'))
    expect(heard).toMatch(/^HTTP\/1\.1 200 /)
    expect(asked).toEqual(['GET /a 0'])
  })

  test('the end of a body is told as it was, in one way, and no connection takes it away', () => {
    expect(endToEnd({ connection: 'content-length, host', 'content-length': '3', host: 'a' })).toEqual({ 'content-length': '3', host: 'a' })
    expect(framingOf({ 'content-length': '3', connection: 'content-length' })).toEqual({ 'content-length': '3' })
    expect(framingOf({ 'transfer-encoding': 'chunked', 'content-length': '3' })).toEqual({ 'transfer-encoding': 'chunked' })
    expect(framingOf({ 'content-length': '0' })).toEqual({})
  })
})
