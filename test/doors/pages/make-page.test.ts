import { createHash } from 'node:crypto'
import type { IncomingMessage, ServerResponse } from 'node:http'
import { brotliDecompressSync, gunzipSync } from 'node:zlib'
import { expect, test } from 'vitest'
import { makePage } from '#doors/pages/make-page'
import { nonceOf } from '#doors/web/headers'

const from = { path: '/lots/5', publicUrl: 'https://bench.example', player: null }

test('a page is made by a request of the house’s own, whole, and packed', async () => {
  const asked: Pick<IncomingMessage, 'url' | 'headers' | 'method'>[] = []
  const made = await makePage(async (request, response) => {
    const { url, headers, method } = request
    asked.push({ url, headers: { ...headers }, method })
    const nonce = nonceOf(request)
    response.setHeader('Content-Type', 'text/html; charset=utf-8')
    response.writeHead(200)
    response.write(`<script nonce="${nonce}">`)
    await new Promise((resolve) => setTimeout(resolve, 5))
    response.write(Buffer.from('go("ä")'))
    response.end('</script>', () => {})
  }, from)
  expect(asked).toEqual([
    { url: '/lots/5', method: 'GET', headers: { host: 'bench.example', 'content-security-policy': expect.stringMatching(/'nonce-/) } },
  ])
  if (!made) throw new Error('it was made')
  const html = '<script>go("ä")</script>'
  const { identity, br, gzip } = made.bodies
  expect([Buffer.from(identity).toString(), brotliDecompressSync(br).toString(), gunzipSync(gzip).toString()]).toEqual([html, html, html])
  expect(made.policy).toContain(`script-src 'self' 'sha256-${createHash('sha256').update('go("ä")').digest('base64')}'`)
  expect(made.policy).not.toContain('nonce')
  expect(made).toMatchObject({ status: 200, type: 'text/html; charset=utf-8' })
})

test.each([
  ['a fault', (response: ServerResponse) => response.writeHead(500, { 'content-type': 'text/html' }).end('broken')],
  ['a way to another page', (response: ServerResponse) => response.writeHead(307, { location: '/' }).end()],
  ['what sets a cookie', (response: ServerResponse) => response.writeHead(200, { 'content-type': 'text/html', 'set-cookie': 'a=b' }).end()],
  ['what is no page', (response: ServerResponse) => response.writeHead(200, { 'content-type': 'text/x-component' }).end('1:"a"')],
])('%s is given to nobody else', async (_words, answer) => {
  expect(await makePage(async (_request, response) => void answer(response), from)).toBe(null)
})

test('where nothing is there, the page says so itself, without its program too', async () => {
  const asked: string[] = []
  const made = await makePage(async (request, response) => {
    asked.push(request.url ?? '')
    response.setHeader('Content-Type', 'text/html; charset=utf-8')
    response.writeHead(404)
    response.end(
      request.url === '/lots/5' ? '<html id="__next_error__"><body></body></html>' : '<html><body>Nothing hangs here</body></html>',
    )
  }, from)
  expect(asked).toEqual(['/lots/5', '/nothing/hangs/here'])
  expect([made?.status, made && Buffer.from(made.bodies.identity).toString()]).toEqual([
    404,
    '<html><body>Nothing hangs here</body></html>',
  ])
})
