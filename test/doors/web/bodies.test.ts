import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { openBodies } from '#doors/web/bodies'
import { CALL_SIZES } from '#doors/web/call-sizes'
import { audienceOf, POLICIES } from '#test/attacks/policies'
import { mostBytes } from '#test/attacks/shapes'
import { everyProcedure } from '#test/attacks/walk'
import { makeCampaign } from '#test/make/campaign'
import { openStage, type Stage } from '#test/stage'
import { openStageDoor } from './open-door'
import { speak, statusesOf } from './raw'

const WITHIN_MS = 300

let stage: Stage
let door: Awaited<ReturnType<typeof openStageDoor>>
beforeEach(async () => {
  stage = openStage({ now: Date.now() })
  await makeCampaign(stage)
  door = await openStageDoor(stage, {
    trustedProxy: 'x-forwarded-for',
    bodies: openBodies({ each: 3, largeInAll: 2, withinMs: WITHIN_MS }),
  })
})
afterEach(() => {
  door.close()
  stage.close()
})

const call = (path: string, body: string, cookie = '') =>
  fetch(`${door.url}/api/trpc/${path}`, {
    method: 'POST',
    headers: { 'content-type': 'application/json', origin: stage.house.publicUrl, cookie },
    body,
  })
const wordsOf = async (answer: Response) => ((await answer.json()) as { error: { message: string } }).error.message

const head = (path: string, length: number, from = '192.0.2.1') =>
  [
    `POST ${path} HTTP/1.1`,
    'Host: bench.example',
    `Origin: ${stage.house.publicUrl}`,
    `X-Forwarded-For: ${from}`,
    'Content-Type: application/json',
    `Content-Length: ${length}`,
    '',
    '',
  ].join('\r\n')

describe('how much a call may bring', () => {
  test('sixteen kilobytes, and what is more is refused in words', async () => {
    const padded = (size: number) => `{"email":"ada@elsewhere.example"${' '.repeat(size - 33)}}`
    expect((await call('people.askCode', padded(16 * 1024))).status).not.toBe(413)
    const answer = await call('people.askCode', padded(16 * 1024 + 1))
    expect(answer.status).toBe(413)
    expect(await wordsOf(answer)).toContain('16 kB at most')
  })

  test('as much where its length is told by nobody', async () => {
    const part = `${(9000).toString(16)}\r\n${' '.repeat(9000)}\r\n`
    const chunked = head('/api/trpc/people.askCode', 0).replace('Content-Length: 0', 'Transfer-Encoding: chunked')
    expect(statusesOf(await speak(door.port, [chunked, part, part, '0\r\n\r\n'], { every: 5 }))).toEqual([413])
  })

  test('a file for a procedure that takes one, from those who have signed in and from nobody else', async () => {
    const text = 'Designators;Part\nR1;10k\n'.repeat(5_000)
    const body = JSON.stringify({ designId: 'none', partsList: { name: 'parts.csv', text }, revision: '' })
    expect(body.length).toBeGreaterThan(100_000)
    const cookie = await door.sessionOf((await stage.actor('maker')).personId)
    expect((await call('designs.previewParts', body, cookie)).status).not.toBe(413)
    expect((await call('designs.previewParts', body)).status).toBe(413)
    expect((await call('people.askCode', body, cookie)).status).toBe(413)
  })

  test('each procedure that may bring more is named, and none of them is open to anybody', () => {
    for (const path of Object.keys(CALL_SIZES)) expect(audienceOf(POLICIES[path] ?? 'anyone'), path).toBeInstanceOf(Array)
  })

  test('what fits into a form fits into its call, long texts in letters of any language', () => {
    const tooLarge = everyProcedure().flatMap(({ path, shape }) => {
      const most = shape ? mostBytes(shape) : 0
      return most > (CALL_SIZES[path] ?? 16 * 1024) ? [`${path} ${Math.round(most / 1024)} kB`] : []
    })
    expect(tooLarge).toEqual([])
  })
})

describe('how slowly it may come', () => {
  test('a call that is not whole in time is cut off in words', async () => {
    const heard = await speak(door.port, [head('/api/trpc/people.askCode', 100), ...'{"email":"ada@else'.split('')], { every: 50 })
    expect(statusesOf(heard)).toEqual([408])
    expect(heard).toContain('came in too slowly')
  })

  test('a photograph may take longer while something of it comes, and is cut off when nothing does', async () => {
    const cookie = await door.sessionOf((await stage.actor('volunteer')).personId)
    const begin = head('/files/photographs', 12).replace('\r\n\r\n', `\r\nCookie: ${cookie}\r\n\r\n`)
    const slowly = await speak(door.port, [begin, ...'not a pictur'.split('')], { every: WITHIN_MS / 4 })
    expect(statusesOf(slowly)).toEqual([400])
    expect(slowly).toContain('not a picture')
    const never = await speak(door.port, [begin, 'not'])
    expect(statusesOf(never)).toEqual([408])
  })

  test('a line whose sender goes on after the answer is closed', async () => {
    const began = performance.now()
    await speak(door.port, [head('/api/trpc/people.askCode', 100_000), ...Array.from({ length: 200 }, () => 'x')], {
      every: 20,
      quietMs: 20_000,
    })
    // Were it left open, it would be spoken to for four seconds and be quiet for twenty.
    expect(performance.now() - began).toBeLessThan(15_000)
  })
})

describe('how many at once', () => {
  test('from one origin so many, then others are told to wait; another origin is not held up', async () => {
    const open = Array.from({ length: 3 }, () => speak(door.port, [head('/api/trpc/people.askCode', 100)]))
    await new Promise((resolve) => setTimeout(resolve, WITHIN_MS / 3))
    const body = JSON.stringify({ email: 'ada@elsewhere.example' })
    const one = (from: string) => speak(door.port, [head('/api/trpc/people.askCode', body.length, from) + body], { quietMs: WITHIN_MS })
    const [same, other] = await Promise.all([one('192.0.2.1'), one('192.0.2.2')])
    expect(statusesOf(same)).toEqual([429])
    expect(same).toContain('from your address at once')
    expect(statusesOf(other)).not.toContain(429)
    await Promise.all(open)
    expect(statusesOf(await one('192.0.2.1'))).not.toContain(429)
  })

  test('of photographs so many in all, from wherever they come', async () => {
    const cookie = await door.sessionOf((await stage.actor('volunteer')).personId)
    const from = (address: string) => head('/files/photographs', 12, address).replace('\r\n\r\n', `\r\nCookie: ${cookie}\r\n\r\n`)
    const open = ['192.0.2.1', '192.0.2.2'].map((address) => speak(door.port, [from(address)]))
    await new Promise((resolve) => setTimeout(resolve, WITHIN_MS / 3))
    const third = await speak(door.port, [`${from('192.0.2.3')}not a pictur`], { quietMs: WITHIN_MS })
    expect(statusesOf(third)).toEqual([429])
    expect(third).toContain('Many large files')
    await Promise.all(open)
    expect(statusesOf(await speak(door.port, [`${from('192.0.2.3')}not a pictur`], { quietMs: WITHIN_MS }))).toEqual([400])
  })
})
