import sharp from 'sharp'
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { makeCampaign } from '#test/make/campaign'
import { openStage, type Stage } from '#test/stage'
import { openStageDoor } from './open-door'
import { speak } from './raw'

let stage: Stage
let door: Awaited<ReturnType<typeof openStageDoor>>
beforeEach(async () => {
  stage = openStage({ now: Date.now() })
  await makeCampaign(stage)
  door = await openStageDoor(stage)
})
afterEach(() => {
  door.close()
  stage.close()
})

const ask = (headers: Record<string, string>, body = JSON.stringify({ email: 'ada@elsewhere.example' })) =>
  fetch(`${door.url}/api/trpc/people.askCode`, { method: 'POST', headers, body })

const JSON_TYPE = { 'content-type': 'application/json' }

test('a change asked for by a page of another site is refused', async () => {
  expect((await ask({ ...JSON_TYPE, origin: 'https://elsewhere.example' })).status).toBe(403)
  expect((await ask({ ...JSON_TYPE, 'sec-fetch-site': 'cross-site' })).status).toBe(403)
  expect((await ask({ ...JSON_TYPE, origin: 'null' })).status).toBe(403)
  expect(stage.letters()).toEqual([])
})

test('which pages are ours says the setting; the host that a request names decides nothing', async () => {
  // As it comes when another name was made to lead to this machine, and a page there asks under its own name.
  const rebound = await speak(door.port, [
    [
      'POST /api/trpc/people.askCode HTTP/1.1',
      'Host: evil.example',
      'Origin: http://evil.example',
      'Sec-Fetch-Site: same-origin',
      'Content-Type: application/json',
      'Content-Length: 33',
      'Connection: close',
      '',
      '{"email":"ada@elsewhere.example"}',
    ].join('\r\n'),
  ])
  expect(rebound).toContain('403')
  expect(rebound).toContain(stage.house.publicUrl)
  expect((await ask({ ...JSON_TYPE, origin: door.url })).status).toBe(403)
  expect(stage.letters()).toEqual([])
})

test('with no proxy named and a forwarding header there, the log says once that all visitors look like one, and the staff are told', async () => {
  const shellOf = async (role: 'maker' | 'bidder') => (await stage.as(role)).people.shell()
  expect((await shellOf('maker')).areVisitorsAlike).toBe(false)
  const warned = vi.spyOn(stage.house.log, 'warn')
  for (const header of ['x-forwarded-for', 'forwarded', 'x-real-ip'])
    await fetch(`${door.url}/api/health`, { headers: { [header]: 'for=203.0.113.9' } })
  expect(warned).toHaveBeenCalledOnce()
  expect(warned.mock.calls[0]?.join()).toContain('all visitors look like one')
  expect(warned.mock.calls[0]?.join()).not.toContain('203.0.113.9')
  expect((await shellOf('maker')).areVisitorsAlike).toBe(true)
  expect((await shellOf('bidder')).areVisitorsAlike).toBe(false)
})

test('a change asked for by a page of ours is taken, and binds the browser by a cookie', async () => {
  const answer = await ask({ ...JSON_TYPE, origin: stage.house.publicUrl })
  expect(answer.status).toBe(200)
  expect(answer.headers.get('set-cookie')).toMatch(/^__Host-tagstrip-browser=.*HttpOnly; SameSite=Strict.*Secure/)
  expect(stage.letters()).toHaveLength(1)
})

test('form data is refused as a change, and so is a batch', async () => {
  expect((await ask({ 'content-type': 'application/x-www-form-urlencoded', origin: stage.house.publicUrl }, 'email=a')).status).toBe(403)
  const batch = await fetch(`${door.url}/api/trpc/people.askCode,people.askCode?batch=1`, {
    method: 'POST',
    headers: { ...JSON_TYPE, origin: stage.house.publicUrl },
    body: '{}',
  })
  expect(batch.status).toBe(400)
  expect(stage.letters()).toEqual([])
})

test('a fault names no file, no stack and no table', async () => {
  const answer = await ask({ ...JSON_TYPE, origin: stage.house.publicUrl }, '{not json')
  expect(answer.status).toBe(400)
  expect(await answer.text()).not.toMatch(/at .*\.ts|node_modules|SQLITE|stack/)
})

test('none of the sign-in library’s own addresses is open', async () => {
  for (const path of [
    '/api/auth/sign-in/email-otp',
    '/api/auth/get-session',
    '/api/auth/email-otp/send-verification-otp',
    '/api/auth/sign-up/email',
  ])
    expect((await fetch(door.url + path, { method: 'POST', body: '{}' })).status).toBe(404)
})

test('every answer carries the headers that keep a page to itself', async () => {
  const { headers } = await fetch(`${door.url}/api/health`)
  expect(headers.get('content-security-policy')).toContain("object-src 'none'")
  expect(headers.get('x-content-type-options')).toBe('nosniff')
  expect(headers.get('x-powered-by')).toBeNull()
})

const send = async (body: Uint8Array, role?: 'volunteer' | 'bidder', origin = stage.house.publicUrl) => {
  const cookie = role ? await door.sessionOf((await stage.actor(role)).personId) : ''
  return fetch(`${door.url}/files/photographs`, { method: 'POST', headers: { origin, cookie }, body: Buffer.from(body) })
}

const picture = () =>
  sharp({ create: { width: 700, height: 500, channels: 3, background: '#97461a' } })
    .withExif({ IFD0: { Copyright: 'told to nobody' }, IFD3: { GPSLatitude: '51/1 30/1 0/1' } })
    .jpeg()
    .toBuffer()

test('a photograph of the staff is kept at three widths without what the camera wrote into it', async () => {
  const answer = await send(await picture(), 'volunteer')
  expect(answer.status).toBe(201)
  const { sha, width, height } = (await answer.json()) as { sha: string; width: number; height: number }
  expect([width, height]).toEqual([700, 500])
  for (const asked of [480, 960, 1600]) {
    const shown = await fetch(`${door.url}/files/${sha}-${asked}.webp`)
    expect(shown.headers.get('content-type')).toBe('image/webp')
    const metadata = await sharp(Buffer.from(await shown.arrayBuffer())).metadata()
    expect(metadata.width).toBe(Math.min(asked, 700))
    expect(metadata.exif).toBeUndefined()
  }
})

test('what is not a picture is refused in words and kept nowhere', async () => {
  for (const body of [
    Buffer.from('<svg xmlns="http://www.w3.org/2000/svg"/>'),
    Buffer.from('GIF89a'),
    Buffer.from('%PDF-1.7'),
    Buffer.alloc(0),
    (await picture()).subarray(0, 300),
  ]) {
    const answer = await send(body, 'volunteer')
    expect(answer.status).toBe(400)
    expect(((await answer.json()) as { words: string }).words).toMatch(/picture|empty/)
  }
  expect(stage.db.all('SELECT * FROM photograph')).toEqual([])
})

test('a photograph over 15 MB is refused with what to do', async () => {
  const answer = await send(new Uint8Array(15 * 1024 * 1024 + 1), 'volunteer')
  expect(answer.status).toBe(413)
  expect(((await answer.json()) as { words: string }).words).toContain('15 MB')
})

test('nobody but the staff adds a photograph', async () => {
  expect((await send(await picture())).status).toBe(401)
  expect((await send(await picture(), 'bidder')).status).toBe(403)
  expect((await send(await picture(), 'volunteer', 'https://elsewhere.example')).status).toBe(403)
})

test('no file outside the folder of photographs is shown', async () => {
  for (const path of [
    '/files/../tagstrip.db',
    '/files/%2e%2e/keys/session.secret',
    `/files/${'a'.repeat(64)}-480.webp`,
    `/files/${'a'.repeat(64)}-99999.webp`,
  ])
    expect((await fetch(door.url + path)).status).toBe(404)
})

test('a stream of topics that do not exist, or of the staff’s for a visitor, is refused', async () => {
  expect((await fetch(`${door.url}/live`)).status).toBe(400)
  expect((await fetch(`${door.url}/live?topics=secrets`)).status).toBe(400)
  expect((await fetch(`${door.url}/live?topics=${Array.from({ length: 13 }, (_, n) => `lot:${n}`)}`)).status).toBe(400)
})

test('a call that asks for no such procedure, or for a change by reading, is answered in words', async () => {
  for (const path of ['people.nothing', 'people.askCode?input={}', 'people', '%E0%A4%A']) {
    const answer = await fetch(`${door.url}/api/trpc/${path}`)
    expect(answer.status, path).toBe(404)
    expect(((await answer.json()) as { error: { message: string } }).error.message).toContain('cannot be understood')
  }
})

test('a call larger than sixteen kilobytes is refused without being kept', async () => {
  const answer = await ask({ ...JSON_TYPE, origin: stage.house.publicUrl }, JSON.stringify({ email: 'a'.repeat(16 * 1024) }))
  expect(answer.status).toBe(413)
  expect(stage.letters()).toEqual([])
})

test('a call that needs no browser cookie sets none', async () => {
  const answer = await fetch(`${door.url}/api/trpc/bidding.frames`)
  expect(answer.status).toBe(200)
  expect(answer.headers.get('set-cookie')).toBeNull()
})

test('the key of an overlay stands in a body: an address that would carry it is not answered, and nothing of it is logged', async () => {
  const lines: string[] = []
  const { log } = stage.house
  log.level = 'trace'
  const { key } = await (await stage.as('host')).air.changeKey()
  const write = process.stdout.write.bind(process.stdout)
  process.stdout.write = ((chunk: string) => lines.push(String(chunk)) > 0) as typeof process.stdout.write
  try {
    const asQuery = await fetch(`${door.url}/api/trpc/air.overlay?input=${encodeURIComponent(JSON.stringify({ key }))}`)
    expect(asQuery.status).toBe(404)
    const asCall = (body: string) =>
      fetch(`${door.url}/api/trpc/air.overlay`, { method: 'POST', headers: { ...JSON_TYPE, origin: stage.house.publicUrl }, body })
    expect(await (await asCall(JSON.stringify({ key }))).json()).toMatchObject({ result: { data: { isOpen: true } } })
    expect((await asCall(`{"key":"${key}`)).status).toBe(400)
    expect((await asCall(JSON.stringify({ key, more: 1 }))).status).toBe(400)
  } finally {
    process.stdout.write = write
    log.level = 'silent'
  }
  expect(lines.join('')).not.toContain(key)
})
