import { request as requestInClear } from 'node:http'
import { request } from 'node:https'
import { connect } from 'node:tls'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { openBodies } from '#doors/web/bodies'
import { makeOpenLot } from '#test/make/lot'
import { NGINX, type Nginx, openNginx } from '#test/make/nginx'
import { openStage, type Stage } from '#test/stage'
import { openStageDoor } from './open-door'

// The guide's own configuration, with a real nginx and real TLS before the house.

if (NGINX === null) console.warn('nginx or openssl is not here and could not be fetched: the guide "In the open" is not tried out.')

const ORIGIN = 'https://auction.example'
let stage: Stage
let door: Awaited<ReturnType<typeof openStageDoor>>
let nginx: Nginx

interface Told {
  status: number
  headers: Record<string, string | string[] | undefined>
  text: string
}

/** Asks as a browser at an address of this machine would: every address of 127.0.0.0/8 is one's own. */
const ask = (
  path: string,
  {
    method = 'GET',
    headers = {},
    body,
    from = '127.0.0.1',
  }: { method?: string; headers?: Record<string, string>; body?: Buffer | string; from?: string } = {},
) =>
  new Promise<Told>((resolve, reject) => {
    const asked = request(
      {
        host: '127.0.0.1',
        port: nginx.https,
        path,
        method,
        localAddress: from,
        servername: 'auction.example',
        ca: nginx.certificate,
        headers: { host: 'auction.example', ...headers },
        agent: false,
      },
      (answer) => {
        const parts: Buffer[] = []
        answer.on('data', (part: Buffer) => parts.push(part))
        answer.on('end', () => resolve({ status: answer.statusCode ?? 0, headers: answer.headers, text: Buffer.concat(parts).toString() }))
        answer.on('error', reject)
      },
    )
    asked.on('error', reject)
    asked.end(body)
  })

const askCode = (from: string, headers: Record<string, string> = {}) =>
  ask('/api/trpc/people.askCode', {
    method: 'POST',
    from,
    headers: { 'content-type': 'application/json', origin: ORIGIN, ...headers },
    body: JSON.stringify({ email: `somebody-${Math.random().toString(36).slice(2)}@elsewhere.example` }),
  })

describe.skipIf(NGINX === null)('behind nginx, as the guide sets it up', () => {
  beforeAll(async () => {
    stage = openStage({ publicUrl: ORIGIN, now: Date.now() })
    await makeOpenLot(stage)
    door = await openStageDoor(stage, {
      trustedProxy: 'x-forwarded-for',
      bodies: openBodies({ withinMs: 1000 }),
      pages: async (_asked, response) => void response.writeHead(200, { 'content-type': 'text/html' }).end('<p>a page</p>'),
    })
    nginx = await openNginx(door.port)
  })
  afterAll(async () => {
    await nginx.stop()
    door.close()
    stage.close()
  })

  test('a page comes over TLS and asks to be visited so from now on, once and on every answer', async () => {
    const page = await ask('/')
    expect([page.status, page.text]).toEqual([200, '<p>a page</p>'])
    expect(page.headers['content-security-policy']).toMatch(/script-src 'self' 'nonce-/)
    for (const { headers } of [
      page,
      await ask('/nothing', { method: 'DELETE' }),
      await ask('/', { headers: { 'content-length': '17000000' }, method: 'POST' }),
    ])
      expect(headers['strict-transport-security']).toBe('max-age=31536000; includeSubDomains')
    expect(page.headers.server).toBe('nginx')
    expect(stage.house.unnamedProxy.isThere()).toBe(false)
  })

  test('nothing is said in clear but where to come, and that is the house’s own name whatever was asked', async () => {
    const told = await new Promise<Told>((resolve, reject) => {
      requestInClear({ host: '127.0.0.1', port: nginx.http, path: '/lots/1?a=b', headers: { host: 'evil.example' } }, (answer) => {
        answer.resume().on('end', () => resolve({ status: answer.statusCode ?? 0, headers: answer.headers, text: '' }))
      })
        .on('error', reject)
        .end()
    })
    expect([told.status, told.headers.location]).toEqual([301, 'https://auction.example/lots/1?a=b'])
  })

  test.each([
    ['TLSv1.3', 'TLSv1.3'],
    ['TLSv1.2', 'TLSv1.2'],
    // What nginx says, and not a client that would not even offer it.
    ['TLSv1.1', 'ERR_SSL_TLSV1_ALERT_PROTOCOL_VERSION'],
  ] as const)('offered %s alone, it answers %s', async (version, answered) => {
    const ciphers = version === 'TLSv1.1' ? 'DEFAULT@SECLEVEL=0' : undefined
    const told = await new Promise<string | null>((resolve) => {
      const line = connect(
        {
          host: '127.0.0.1',
          port: nginx.https,
          servername: 'auction.example',
          ca: nginx.certificate,
          minVersion: version,
          maxVersion: version,
          ciphers,
        },
        () => {
          resolve(line.getProtocol())
          line.destroy()
        },
      )
      line.on('error', (reason: NodeJS.ErrnoException) => resolve(reason.code ?? reason.message))
    })
    expect(told).toBe(answered)
  })

  test('a frame arrives as soon as it is made, while the stream stays open', async () => {
    const frames: string[] = []
    const stream = request(
      {
        host: '127.0.0.1',
        port: nginx.https,
        path: '/live?topics=lots',
        servername: 'auction.example',
        ca: nginx.certificate,
        headers: { host: 'auction.example' },
      },
      (answer) => answer.on('data', (part: Buffer) => frames.push(part.toString())),
    )
    stream.on('error', () => {})
    stream.end()
    await expect.poll(() => frames.join('')).toContain('event')
    const before = frames.length
    await makeOpenLot(stage, { tag: 'TERN-02' })
    await expect.poll(() => frames.length, { timeout: 5000 }).toBeGreaterThan(before)
    stream.destroy()
    // And whoever goes is gone for the house as well.
    await expect.poll(() => stage.house.hub.watching()).toBe(0)
  })

  test('the address that nginx sees is the one that is limited, whatever a visitor writes into the header', async () => {
    const statuses: number[] = []
    for (let n = 0; n < 22; n++)
      statuses.push(
        (
          await askCode('127.0.0.21', {
            'x-forwarded-for': `203.0.113.${n}`,
            forwarded: `for=203.0.113.${n}`,
            'x-real-ip': `203.0.113.${n}`,
          })
        ).status,
      )
    expect(statuses.slice(0, 20)).toEqual(Array.from({ length: 20 }, () => 200))
    expect(statuses.slice(20)).toEqual([429, 429])
    // Somebody else is not held up, and cannot be by one who writes their address.
    expect((await askCode('127.0.0.22')).status).toBe(200)
    expect((await askCode('127.0.0.21', { 'x-forwarded-for': '127.0.0.22' })).status).toBe(429)
  })

  test('what is too large is refused: by the house in words, and before it by nginx', async () => {
    const call = await ask('/api/trpc/people.askCode', {
      method: 'POST',
      headers: { 'content-type': 'application/json', origin: ORIGIN },
      body: JSON.stringify({ email: 'a'.repeat(17_000) }),
    })
    expect(call.status).toBe(413)
    expect(call.text).toContain('"refusal"')
    const file = await ask('/files/photographs', { method: 'POST', headers: { origin: ORIGIN, 'content-length': '17000000' } })
    expect(file.status).toBe(413)
  })

  test('a body that does not come is not waited for', async () => {
    const heard = await new Promise<string>((resolve) => {
      let text = ''
      const line = connect({ host: '127.0.0.1', port: nginx.https, servername: 'auction.example', ca: nginx.certificate }, () => {
        line.write(
          `POST /api/trpc/people.askCode HTTP/1.1\r\nHost: auction.example\r\nOrigin: ${ORIGIN}\r\nContent-Type: application/json\r\nContent-Length: 900\r\n\r\n{"em`,
        )
      })
      line.on('data', (part) => {
        text += part.toString()
        line.end()
      })
      line.on('close', () => resolve(text))
      line.on('error', () => resolve(text))
    })
    expect(heard).toMatch(/^HTTP\/1\.1 408 /)
    expect(heard).toContain('too slowly')
  })

  test('two lengths in one request reach nobody behind it', async () => {
    const heard = await new Promise<string>((resolve) => {
      let text = ''
      const line = connect({ host: '127.0.0.1', port: nginx.https, servername: 'auction.example', ca: nginx.certificate }, () =>
        line.write(
          'POST / HTTP/1.1\r\nHost: auction.example\r\nContent-Length: 6\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\nGET /lots.json HTTP/1.1\r\nHost: auction.example\r\n\r\n',
        ),
      )
      line.on('data', (part) => {
        text += part.toString()
      })
      line.on('close', () => resolve(text))
      line.on('error', () => resolve(text))
    })
    expect(heard).toMatch(/^HTTP\/1\.1 400 /)
    expect(heard).not.toContain('"lots"')
  })
})
