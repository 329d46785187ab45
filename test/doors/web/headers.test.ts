import { request } from 'node:http'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { ADDRESSES } from '#doors/web/addresses'
import { nonceOf, openHeaders } from '#doors/web/headers'
import { makeOpenLot } from '#test/make/lot'
import { openStage, type Stage } from '#test/stage'
import { openStageDoor } from './open-door'
import { speak, statusesOf } from './raw'

// Every answer of the house, whatever was asked and however it went, carries the headers that keep it to itself.

let stage: Stage
let door: Awaited<ReturnType<typeof openStageDoor>>
let cookies = ''
/** The policy that a page was given to put on its scripts. */
const given: string[] = []
beforeAll(async () => {
  stage = openStage()
  await makeOpenLot(stage)
  door = await openStageDoor(stage, {
    trustedProxy: 'x-forwarded-for',
    pages: async (asked, response) => {
      given.push(String(asked.headers['content-security-policy']))
      if (asked.url === '/breaks') throw new Error('a page that fails')
      if (asked.url === '/elsewhere') response.writeHead(308, { location: '/bench' }).end()
      else response.writeHead(asked.url === '/nothing' ? 404 : 200, { 'content-type': 'text/html' }).end('<p>a page</p>')
    },
  })
  cookies = await door.sessionOf((await stage.actor('maker')).personId)
})
afterAll(() => {
  door.close()
  stage.close()
})

interface Told {
  status: number
  headers: Record<string, string | string[] | undefined>
}

let from = 0
/** Asks, and looks at the head alone: a stream has no end to wait for. */
const ask = (
  path: string,
  { method = 'GET', headers = {}, body = '' }: { method?: string; headers?: Record<string, string>; body?: string } = {},
) =>
  new Promise<Told>((resolve, reject) => {
    from += 1
    const given = { 'x-forwarded-for': `2001:db8:${from.toString(16)}::1`, ...headers }
    const asked = request(`${door.url}${path}`, { method, headers: given }, (answer) => {
      resolve({ status: answer.statusCode ?? 0, headers: answer.headers })
      answer.destroy()
    })
    asked.on('error', reject)
    asked.end(body)
  })

const ALWAYS = openHeaders({ publicUrl: 'https://bench.example', isDev: false }).always.map(([name]) => name)

/** What is missing from the head of an answer, or wrong in it. */
function flawsOf({ headers }: Told): string[] {
  const policy = String(headers['content-security-policy'] ?? '')
  return [
    ...ALWAYS.filter((name) => !headers[name]),
    ...(policy.includes("frame-ancestors 'none'") ? [] : ['may be framed']),
    ...(policy.includes("base-uri 'none'") ? [] : ['may have another base']),
    ...(/script-src[^;]*'unsafe-(inline|eval)'/.test(policy) ? ['any script runs'] : []),
    ...(/style-src [^;]*'unsafe-inline'/.test(policy) ? ['any style applies'] : []),
    ...(headers['x-powered-by'] || headers.server ? ['says what it is made with'] : []),
  ]
}

const POST = { method: 'POST', headers: { 'content-type': 'application/json', origin: 'https://bench.example' } }
const filled = (path: string) => path.replaceAll(/:\w+/g, '1')

const ASKED: [what: string, status: number, path: string, wishes?: Parameters<typeof ask>[1]][] = [
  ['a page', 200, '/'],
  ['a page that is not there', 404, '/nothing'],
  ['a page that leads elsewhere', 308, '/elsewhere'],
  ['a page that fails', 500, '/breaks'],
  ['the head of a page', 200, '/', { method: 'HEAD' }],
  ['a call', 200, '/api/trpc/bidding.frames'],
  ['a call that is not there', 404, '/api/trpc/people.nothing'],
  ['a call of another site', 403, '/api/trpc/people.askCode', { ...POST, headers: { ...POST.headers, origin: 'https://evil.example' } }],
  ['a call that cannot be read', 400, '/api/trpc/people.askCode', { ...POST, body: '{' }],
  ['a call that is too large', 413, '/api/trpc/people.askCode', { ...POST, body: 'x'.repeat(17_000) }],
  ['a call of nobody', 401, '/api/trpc/sessions.mine'],
  ['a stream', 200, '/live?topics=lots'],
  ['a stream of nothing', 400, '/live'],
  ['a stream of the staff', 403, '/live?topics=unit:TERN-01'],
  ['a photograph that is not there', 404, `/files/${'a'.repeat(64)}-480.webp`],
  ['a photograph sent by nobody', 401, '/files/photographs', POST],
  ['a pack that is not there', 404, '/bench/close-out/packs/a.zip'],
  ['the clock', 200, '/api/now'],
  ['health', 200, '/api/health'],
  ['a way of asking that nothing takes', 404, '/', { method: 'DELETE' }],
  ['pictures made smaller for others', 404, '/_next/image?url=x'],
  ['no address', 400, '/%00'],
  ['what cannot be expected', 417, '/', { headers: { expect: 'wonders' } }],
  ['a report', 204, '/api/reports', { method: 'POST', body: '{}' }],
  ['a report that is too large', 413, '/api/reports', { method: 'POST', body: 'x'.repeat(17_000) }],
  ['whom to tell', 404, '/.well-known/security.txt'],
]

test.each(ASKED)('%s: %d', async (_what, status, path, wishes) => {
  const told = await ask(path, wishes)
  expect(told.status).toBe(status)
  expect(flawsOf(told)).toEqual([])
})

test('one too many: 429', async () => {
  const headers = { 'x-forwarded-for': '192.0.2.77' }
  let told = await ask('/api/reports', { method: 'POST', headers, body: '{}' })
  for (let n = 0; n < 10 && told.status !== 429; n++) told = await ask('/api/reports', { method: 'POST', headers, body: '{}' })
  expect(told.status).toBe(429)
  expect(flawsOf(told)).toEqual([])
})

test.each(ADDRESSES.map(({ path }) => path))('%s, to nobody and to the maker', async (path) => {
  for (const cookie of ['', cookies]) {
    const told = await ask(filled(path), { headers: { cookie } })
    expect(flawsOf(told)).toEqual([])
    expect(told.status).toBeLessThan(500)
  }
})

describe('what never reaches the door', () => {
  const LINES: [string, number, string][] = [
    ['no HTTP', 400, 'GARBAGE\r\n\r\n'],
    ['a head that is too long', 431, `GET / HTTP/1.1\r\nHost: a\r\nX-Long: ${'a'.repeat(20_000)}\r\n\r\n`],
    ['two lengths', 400, 'POST / HTTP/1.1\r\nHost: a\r\nContent-Length: 3\r\nTransfer-Encoding: chunked\r\n\r\n'],
    ['nobody asked', 400, 'GET / HTTP/1.1\r\n\r\n'],
  ]
  test.each(LINES)('%s: %d', async (_what, status, lines) => {
    const heard = await speak(door.port, [lines], { quietMs: 300 })
    expect(statusesOf(heard)).toEqual([status])
    const headers = Object.fromEntries(
      (heard.split('\r\n\r\n')[0] ?? '')
        .split('\r\n')
        .slice(1)
        .map((line) => [line.split(': ')[0]?.toLowerCase() ?? '', line.split(': ').slice(1).join(': ')]),
    )
    expect(flawsOf({ status, headers })).toEqual([])
  })
})

test('a page gets a word of its own at every asking, whatever its visitor wrote there, and may report', async () => {
  given.length = 0
  const forged = "script-src 'nonce-aaaa'"
  const first = await ask('/', { headers: { 'content-security-policy': forged, 'content-security-policy-report-only': forged } })
  const second = await ask('/')
  const [one, other] = given.map((policy) => nonceOf({ headers: { 'content-security-policy': policy } } as never))
  expect(first.headers['content-security-policy']).toBe(given[0])
  expect(second.headers['content-security-policy']).toBe(given[1])
  expect(Buffer.from(one ?? '', 'base64')).toHaveLength(16)
  expect(one).not.toBe(other)
  expect(one).not.toContain('aaaa')
  expect(first.headers['reporting-endpoints']).toBe('reports="https://bench.example/api/reports"')
  expect(String(first.headers['content-security-policy'])).toContain('report-uri /api/reports; report-to reports')
})

test('only what everybody may read is read by pages of others', async () => {
  expect((await ask('/lots.json')).headers).toMatchObject({
    'access-control-allow-origin': '*',
    'cross-origin-resource-policy': 'cross-origin',
  })
  for (const path of ['/', '/api/now', '/api/trpc/bidding.frames', '/bench/close-out/statement.csv', '/lots/1/invoice.pdf']) {
    const { headers } = await ask(path, { headers: { cookie: cookies } })
    expect(headers['access-control-allow-origin'], path).toBeUndefined()
    expect(headers['cross-origin-resource-policy'], path).toBe('same-origin')
  }
})

test('a house that is reached without TLS asks nobody to come by TLS', () => {
  const names = openHeaders({ publicUrl: 'http://localhost:4170', isDev: false }).always.map(([name]) => name)
  expect(names).not.toContain('strict-transport-security')
  expect(ALWAYS).toContain('strict-transport-security')
})
