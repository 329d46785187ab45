import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { rangeAsked } from '#doors/web/byte-range.rules'
import { unpackHouse } from '#end/packs/unpack-house'
import type { Role } from '#kernel/role'
import { makeCampaign } from '#test/make/campaign'
import { MIGRATIONS, packInto } from '#test/make/packed'
import { makeBox, makeMp4, makeWav } from '#test/make/sound'
import { openStage, type Stage } from '#test/stage'
import { openStageDoor } from './open-door'

/** The head of a WebM (RFC 8794, 11.2) in which five thousand empty bytes stand before the name of the format. */
const LATE_WEBM = Buffer.concat([
  Buffer.from('1a45dfa35392ec5388', 'hex'),
  Buffer.alloc(5000),
  Buffer.from('428284', 'hex'),
  Buffer.from('webm'),
])

describe('a range of bytes (RFC 9110, 14.1.2)', () => {
  test.each([
    [undefined, 'all'],
    ['bytes=0-', { first: 0, last: 99 }],
    ['bytes=0-0', { first: 0, last: 0 }],
    ['bytes=10-19', { first: 10, last: 19 }],
    ['bytes=99-', { first: 99, last: 99 }],
    ['bytes=90-200', { first: 90, last: 99 }],
    ['bytes=-10', { first: 90, last: 99 }],
    ['bytes=-200', { first: 0, last: 99 }],
    ['bytes=100-', 'none'],
    ['bytes=-0', 'none'],
    // No range, another unit, or several: all of it is given.
    ['bytes=-', 'all'],
    ['bytes=20-10', 'all'],
    ['bytes=0-1,5-6', 'all'],
    ['pages=1-2', 'all'],
    ['bytes=a-b', 'all'],
  ])('%s of 100 bytes', (header, asked) => expect(rangeAsked(header, 100)).toEqual(asked))
})

/** A box in a box in a box, so many deep. */
function nested(deep: number): Buffer {
  const boxes = Buffer.alloc(deep * 8)
  for (let at = 0; at < boxes.length; at += 8) {
    boxes.writeUInt32BE(boxes.length - at, at)
    boxes.write('moov', at + 4)
  }
  return boxes
}

describe('recordings', () => {
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
  const send = async (body: Uint8Array<ArrayBuffer> | Buffer, role?: Role, origin = 'https://bench.example') =>
    fetch(`${door.url}/files/recordings`, {
      method: 'POST',
      body: new Uint8Array(body),
      headers: { origin, ...(role && { cookie: await door.sessionOf((await stage.actor(role)).personId) }) },
    })
  const kept = async (body: Buffer) => (await (await send(body, 'maker')).json()) as { sha: string; kind: string; bytes: number }
  const get = (path: string, headers: Record<string, string> = {}, method = 'GET') => fetch(`${door.url}${path}`, { headers, method })

  test('are known by their content, kept under its hash and given whole or in ranges', async () => {
    const wav = makeWav()
    const answer = await send(wav, 'volunteer')
    expect(answer.status).toBe(201)
    const { sha, kind, bytes } = (await answer.json()) as { sha: string; kind: string; bytes: number }
    expect([kind, bytes]).toEqual(['wav', wav.length])
    const path = `/files/${sha}.wav`
    const whole = await get(path)
    expect(whole.status).toBe(200)
    expect(
      Object.fromEntries(
        ['content-type', 'accept-ranges', 'x-content-type-options', 'content-length'].map((name) => [name, whole.headers.get(name)]),
      ),
    ).toEqual({
      'content-type': 'audio/wav',
      'accept-ranges': 'bytes',
      'x-content-type-options': 'nosniff',
      'content-length': String(wav.length),
    })
    expect(whole.headers.get('content-security-policy')).toContain("default-src 'none'; media-src 'self'")
    expect(Buffer.from(await whole.arrayBuffer()).equals(wav)).toBe(true)
    const part = await get(path, { range: 'bytes=44-143' })
    expect([part.status, part.headers.get('content-range')]).toEqual([206, `bytes 44-143/${wav.length}`])
    expect(Buffer.from(await part.arrayBuffer()).equals(wav.subarray(44, 144))).toBe(true)
    const beyond = await get(path, { range: `bytes=${wav.length}-` })
    expect([beyond.status, beyond.headers.get('content-range')]).toEqual([416, `bytes */${wav.length}`])
    expect((await get(path, { range: 'bytes=0-9', 'if-range': '"another"' })).status).toBe(200)
    expect((await get(path, { range: 'bytes=0-9', 'if-range': whole.headers.get('etag') ?? '' })).status).toBe(206)
    const head = await get(path, {}, 'HEAD')
    expect([head.status, head.headers.get('content-length'), await head.text()]).toEqual([200, String(wav.length), ''])
    expect((await get(`/files/${sha}.mp4`)).status).toBe(404)
    expect((await get(`/files/${'a'.repeat(64)}.wav`)).status).toBe(404)
  })

  test('of a camera lose what it wrote into them of place and time', async () => {
    const mp4 = makeMp4()
    const { sha, kind } = await kept(mp4)
    expect(kind).toBe('mp4')
    const given = Buffer.from(await (await get(`/files/${sha}.mp4`)).arrayBuffer())
    expect(mp4.includes('+51.1234')).toBe(true)
    expect(given.includes('+51.12')).toBe(false)
    expect(given.length).toBe(mp4.length)
    expect(given.includes('picture and sound')).toBe(true)
  })

  test.each([
    ['of boxes without end', Array.from({ length: 100_000 }, () => makeBox('abcd'))],
    ['of boxes deep within each other', [nested(200_000)]],
    ['that breaks off', [makeBox('moov', makeBox('trak')).subarray(0, 12)]],
    ['with a box that is shorter than its own head', [Buffer.from('\0\0\0\u0004odd ', 'latin1'), makeBox('moov')]],
  ])('an MP4 file %s is refused with what to do', async (_name, boxes) => {
    const answer = await send(Buffer.concat([makeBox('ftyp', 'isom', Buffer.alloc(4), 'isom'), ...boxes]), 'maker')
    expect(answer.status).toBe(400)
    expect(((await answer.json()) as { words: string }).words).toContain('export it as MP4 again')
  })

  test.each([
    ['a page', Buffer.from('<!doctype html><script>alert(1)</script>'), 'MP4 or WebM video'],
    ['a picture', Buffer.from('89504e470d0a1a0a0000000d49484452', 'hex'), 'MP4 or WebM video'],
    ['a page that says it is sound', Buffer.from('RIFFxxxxWEBP<script>'), 'MP4 or WebM video'],
    ['QuickTime', makeMp4('qt  '), 'QuickTime'],
    ['HEVC', makeMp4('isom', 'hvc1'), 'H.264'],
    ['a WebM that says so behind more than its first four kilobytes alone', LATE_WEBM, 'MP4 or WebM video'],
    ['nothing', Buffer.alloc(0), 'empty'],
  ])('%s is refused with what to do, and kept nowhere', async (_name, body, words) => {
    const answer = await send(body, 'maker')
    expect(answer.status).toBe(400)
    expect(((await answer.json()) as { words: string }).words).toContain(words)
    expect(stage.db.all('SELECT * FROM recording')).toEqual([])
    expect(readdirSync(join(stage.dir, 'photographs'))).toEqual([])
  })

  test('with a cover before the sound are sound', async () => {
    const frame = Buffer.concat([Buffer.from('fffb9000', 'hex'), Buffer.alloc(413)])
    const cover = Buffer.concat([Buffer.from('ID3\x04\0\0\0\x06\x0d\x20', 'latin1'), Buffer.alloc(6 * 16_384 + 13 * 128 + 32)])
    expect((await kept(Buffer.concat([cover, frame, frame, frame]))).kind).toBe('mp3')
  })

  test('over 15 MB are refused with what to do, and nobody but the staff adds one', async () => {
    const large = await send(new Uint8Array(15 * 1024 * 1024 + 1), 'maker')
    expect(large.status).toBe(413)
    expect(((await large.json()) as { words: string }).words).toContain('15 MB')
    expect((await send(makeWav())).status).toBe(401)
    expect((await send(makeWav(), 'bidder')).status).toBe(403)
    expect((await send(makeWav(), 'maker', 'https://elsewhere.example')).status).toBe(403)
  })

  test('go into a pack with the photographs and come out of it as they were', async () => {
    await makeCampaign(stage)
    const wav = makeWav(900)
    const { sha } = await kept(wav)
    const file = await packInto(join(stage.dir, 'whole.zip'), stage)
    const target = join(stage.dir, 'elsewhere')
    await unpackHouse(file, target, MIGRATIONS, () => {})
    expect(readFileSync(join(target, 'photographs', `${sha}.wav`)).equals(wav)).toBe(true)
  })
})
