import { deflateSync } from 'node:zlib'
import sharp from 'sharp'
import { afterAll, beforeAll, expect, test, vi } from 'vitest'
import { type Chance, seededChance } from '#kernel/seeded'
import { openStageDoor } from '#test/doors/web/open-door'
import { openStage, type Stage } from '#test/stage'

// A sample in the suite; `npm run hostile-files` sends a thousand, and SEED another thousand.
const MANY = Number(process.env.HOSTILE_FILES ?? 120)
const SEED = Number(process.env.SEED ?? 1)
const MARK = '<script>alert("slipped in")</script>'

let stage: Stage
let door: Awaited<ReturnType<typeof openStageDoor>>
let cookie = ''
let pictures: Buffer[] = []
beforeAll(async () => {
  stage = openStage({ now: Date.now() })
  door = await openStageDoor(stage, { trustedProxy: 'x-forwarded-for' })
  cookie = await door.sessionOf((await stage.actor('volunteer')).personId)
  const drawn = () => sharp({ create: { width: 90, height: 60, channels: 3, background: '#97461a' } })
  const marked = () => drawn().withExif({ IFD0: { Copyright: MARK, ImageDescription: MARK } })
  pictures = [
    await marked().jpeg().toBuffer(),
    await marked().png().toBuffer(),
    await marked().webp().toBuffer(),
    await drawn().gif().toBuffer(),
    await drawn().tiff().toBuffer(),
    await drawn().avif().toBuffer(),
  ]
})
afterAll(() => {
  door.close()
  stage.close()
})

const oneOf = <T>(all: readonly T[], chance: Chance): T => all[Math.floor(chance() * all.length)] as T

/** A PNG whose head promises more than there is, or more than anybody has room for. */
function pngOf(width: number, height: number, data: Buffer): Buffer {
  const chunk = (name: string, body: Buffer) => {
    const head = Buffer.alloc(8)
    head.writeUInt32BE(body.length, 0)
    head.write(name, 4, 'latin1')
    const crc = Buffer.alloc(4)
    crc.writeUInt32BE(crc32(Buffer.concat([head.subarray(4), body])), 0)
    return Buffer.concat([head, body, crc])
  }
  const ihdr = Buffer.alloc(13)
  ihdr.writeUInt32BE(width, 0)
  ihdr.writeUInt32BE(height, 4)
  ihdr.set([8, 2, 0, 0, 0], 8)
  return Buffer.concat([
    Buffer.from('\x89PNG\r\n\x1a\n', 'latin1'),
    chunk('IHDR', ihdr),
    chunk('IDAT', data),
    chunk('IEND', Buffer.alloc(0)),
  ])
}

function crc32(bytes: Buffer): number {
  let crc = 0xffffffff
  for (const byte of bytes) {
    crc ^= byte
    for (let bit = 0; bit < 8; bit++) crc = crc & 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1
  }
  return (crc ^ 0xffffffff) >>> 0
}

const NO_PICTURES: readonly Buffer[] = [
  `<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)">${MARK}</svg>`,
  '<?xml version="1.0"?><!DOCTYPE a [<!ENTITY b SYSTEM "file:///etc/passwd">]><svg xmlns="http://www.w3.org/2000/svg"><text>&b;</text></svg>',
  `<!doctype html><title>a</title>${MARK}`,
  `GIF89a/*${MARK}*/=1`,
  `%PDF-1.7\n1 0 obj<</OpenAction<</S/JavaScript/JS(app.alert(1))>>>>endobj`,
  'push graphic-context\nviewbox 0 0 640 480\nimage over 0,0 0,0 "|id"\npop graphic-context',
  '%!PS\n(%pipe%id) (r) file',
  'PK\x03\x04../../etc/passwd',
  'BM',
  'RIFF\xff\xff\xff\xffWEBPVP8L',
  '\x00\x00\x00\x1cftypavif',
  '\xff\xd8\xff\xe0',
  '#!/bin/sh\nid',
  '',
].map((text) => Buffer.from(text, 'latin1'))

const MADE: readonly ((chance: Chance) => Buffer)[] = [
  (chance) => oneOf(NO_PICTURES, chance),
  // A picture with bytes changed.
  (chance) => {
    const bytes = Buffer.from(oneOf(pictures, chance))
    for (let n = 0; n < 1 + chance() * 20; n++) bytes[Math.floor(chance() * bytes.length)] = Math.floor(chance() * 256)
    return bytes
  },
  // Cut short, or with the beginning of another kind.
  (chance) => {
    const bytes = oneOf(pictures, chance)
    return bytes.subarray(0, Math.floor(chance() * bytes.length))
  },
  (chance) => Buffer.concat([oneOf(pictures, chance).subarray(0, Math.floor(chance() * 40)), oneOf(pictures, chance)]),
  // A picture that is something else as well.
  (chance) => Buffer.concat([oneOf(pictures, chance), oneOf(NO_PICTURES, chance)]),
  (chance) => Buffer.concat([oneOf(NO_PICTURES, chance), oneOf(pictures, chance)]),
  // A head that promises a great deal.
  (chance) => pngOf(oneOf([0, 1, 65_535, 2 ** 31 - 1], chance), oneOf([0, 1, 65_535, 2 ** 31 - 1], chance), deflateSync(Buffer.alloc(200))),
  // Little that becomes much.
  () => pngOf(9000, 9000, deflateSync(Buffer.alloc(4_000_000))),
  (chance) => Buffer.from(Array.from({ length: Math.floor(chance() * 3000) }, () => Math.floor(chance() * 256))),
]

test(`of ${MANY} hostile files none breaks anything, and what is kept is a picture and nothing else`, { timeout: 0 }, async () => {
  const chance = seededChance(SEED)
  const failed = vi.spyOn(stage.house.log, 'error')
  const flaws: string[] = []
  let kept = 0
  for (let n = 0; n < MANY; n++) {
    const body = (MADE[n % MADE.length] as (chance: Chance) => Buffer)(chance)
    const answer = await fetch(`${door.url}/files/photographs`, {
      method: 'POST',
      headers: { origin: stage.house.publicUrl, cookie, 'content-type': oneOf(['image/jpeg', 'text/html', 'image/svg+xml'], chance) },
      body: new Uint8Array(body),
    })
    const text = await answer.text()
    const what = `number ${n}, ${JSON.stringify(body.subarray(0, 40).toString('latin1'))}`
    if (![201, 400, 413, 429].includes(answer.status) || /\n\s+at |node_modules|\.[mc]?[jt]s:\d/.test(text))
      flaws.push(`${what}: ${answer.status} ${text}`)
    if (answer.status !== 201) continue
    kept += 1
    const { sha } = JSON.parse(text) as { sha: string }
    const shown = await fetch(`${door.url}/files/${sha}-480.webp`)
    const bytes = Buffer.from(await shown.arrayBuffer())
    const { format, exif, xmp } = await sharp(bytes).metadata()
    if (shown.headers.get('content-type') !== 'image/webp' || format !== 'webp') flaws.push(`${what} is shown as ${format}`)
    if (exif || xmp || bytes.includes('script') || bytes.includes('passwd')) flaws.push(`${what} is shown with what it brought`)
  }
  expect(flaws).toEqual([])
  expect(failed.mock.calls.map(([said]) => String((said as { err?: unknown }).err))).toEqual([])
  failed.mockRestore()
  // Some were pictures all the same, so both ways were gone.
  expect(kept).toBeGreaterThan(0)
  expect(kept).toBeLessThan(MANY)
})
