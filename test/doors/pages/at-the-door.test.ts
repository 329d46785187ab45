import { createHash } from 'node:crypto'
import { request } from 'node:http'
import { brotliCompressSync, gzipSync } from 'node:zlib'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { openKeptPages } from '#doors/pages/kept-pages'
import type { MadePage } from '#doors/pages/made-page'
import { HOUR, MINUTE, SECOND } from '#kernel/instant'
import { makeCampaign } from '#test/make/campaign'
import { makeTestedUnit } from '#test/make/certified-unit'
import { makeBidder, makeOpenLot, makePreparedLot, PHOTO } from '#test/make/lot'
import { openStage, type Stage } from '#test/stage'
import { openStageDoor } from '../web/open-door'

let stage: Stage
let door: Awaited<ReturnType<typeof openStageDoor>>
/** What the pages' own program asks the house for when it makes a page for nobody in particular; the time is left out. */
const readingOf = async (path: string): Promise<unknown> => {
  const caller = stage.visitor()
  const shell = await caller.people.shell()
  const [, of, name = ''] = path.split('/')
  if (of === 'units') return { shell, record: await caller.record.ofUnit({ tag: name }) }
  if (of === 'lots')
    return { shell, page: await caller.lotPage.page({ lot: Number(name) }), frame: await caller.bidding.frame({ lot: Number(name) }) }
  if (of === 'raised') return { shell, meter: await caller.proceeds.meter(), day: await caller.pictures.day() }
  if (of === 'programme') return { shell, programme: await caller.programme.open() }
  return { shell, cards: await caller.lotPage.cards(), frames: await caller.bidding.frames(), meter: await caller.proceeds.meter() }
}
const pageOf = (text: string): MadePage => {
  const identity = Buffer.from(text)
  const etag = createHash('sha256').update(identity).digest('base64url')
  return {
    status: 200,
    type: 'text/html',
    policy: "script-src 'sha256-x'",
    etag,
    bodies: { br: brotliCompressSync(identity), gzip: gzipSync(identity), identity },
  }
}

beforeEach(async () => {
  stage = openStage()
  const keptPages = openKeptPages({
    shop: {
      make: async ({ path }) => pageOf(JSON.stringify(await readingOf(path))),
      close: () => {},
    },
    now: stage.clock.now,
    quietMs: 20,
  })
  stage.house.hearFirst(keptPages.touch)
  door = await openStageDoor(stage, {
    keptPages,
    trustedProxy: 'x-forwarded-for',
    pages: async (request, response) => void response.writeHead(200, { 'cache-control': 'no-store' }).end(`own page of ${request.url}`),
  })
})
afterEach(() => {
  door.close()
  stage.close()
})

/** As no browser asks: with whatever is written in its headers, the host too. */
const askAs = (path: string, headers: Record<string, string>) =>
  new Promise<{ status: number | undefined; text: string }>((resolve, reject) => {
    request(`${door.url}${path}`, { headers }, (answer) => {
      let text = ''
      answer.setEncoding('utf8')
      answer.on('data', (part: string) => {
        text += part
      })
      answer.on('end', () => resolve({ status: answer.statusCode, text }))
    })
      .on('error', reject)
      .end()
  })
const ask = (path: string, headers: Record<string, string> = {}) => fetch(`${door.url}${path}`, { headers })
const read = async (path: string) => (await ask(path)).text()

describe('a kept page shows at once', () => {
  /** Every page that may show it stands there from before, does something, and asks again without waiting. */
  const isShown = async (paths: string[], change: () => Promise<unknown>) => {
    const before = await Promise.all(paths.map(read))
    await change()
    const after = await Promise.all(paths.map(read))
    for (const [n, path] of paths.entries()) {
      expect(after[n], path).not.toBe(before[n])
      expect(after[n], path).toBe(JSON.stringify(await readingOf(path)))
    }
  }

  test('a bid', async () => {
    const { number } = await makeOpenLot(stage)
    const ada = await makeBidder(stage, 'Ada')
    await isShown(['/', `/lots/${number}`, '/raised'], () => ada.bid(number, '60'))
  })

  test('an extension, on the pages of other lots too', async () => {
    const { number } = await makeOpenLot(stage, { closesIn: HOUR })
    const { number: other } = await makePreparedLot(stage, { tag: 'TERN-04', closesIn: 2 * HOUR })
    await (await stage.as('maker')).bidding.open({ lot: other })
    const ada = await makeBidder(stage, 'Ada')
    stage.clock.pass(HOUR - 30 * SECOND)
    await isShown(['/', `/lots/${number}`, `/lots/${other}`], () => ada.bid(number, '60'))
  })

  test('a close', async () => {
    const { number, closesAt } = await makeOpenLot(stage)
    const ada = await makeBidder(stage, 'Ada')
    await ada.bid(number, '60')
    stage.clock.set(closesAt + SECOND)
    await isShown(['/', `/lots/${number}`, '/raised'], () => stage.command(() => {}))
  })

  test('a hold, and that it goes on', async () => {
    const { number } = await makeOpenLot(stage)
    const host = await stage.as('host')
    await isShown(['/', `/lots/${number}`], () => host.programme.holdAll({ reason: 'The stream is lost.' }))
    stage.clock.pass(MINUTE)
    await isShown(['/', `/lots/${number}`], () => host.programme.resumeAll())
  })

  test('a void', async () => {
    for (const role of ['maker', 'host', 'treasurer'] as const) await stage.actor(role)
    const { number } = await makeOpenLot(stage)
    await (await makeBidder(stage, 'Ada')).bid(number, '60')
    const { alias } = await (await makeBidder(stage, 'Ben')).bid(number, '400')
    const host = await stage.as('host')
    await host.bidding.askVoid({ lot: number, alias, reason: 'Bid in error.' })
    const treasurer = await stage.as('treasurer')
    const askedAt = (await treasurer.bidding.voidRequests({ lot: number }))[0]?.at ?? 0
    stage.clock.pass(MINUTE)
    await isShown(['/', `/lots/${number}`], () => treasurer.bidding.agreeVoid({ lot: number, alias, askedAt }))
  })

  test('a certificate that is withdrawn', async () => {
    const { tag, serial } = await makeTestedUnit(stage)
    const maker = await stage.as('maker')
    await isShown([`/units/${tag}`], () => maker.bringup.withdrawCertificate({ serial, reason: 'It was dropped.' }))
  })

  test('a photograph that is taken away', async () => {
    const { number } = await makePreparedLot(stage)
    const maker = await stage.as('maker')
    await maker.lots.publish({ lot: number })
    await isShown([`/lots/${number}`], async () => {
      const { photographs } = await maker.lots.prepared({ lot: number })
      await maker.lots.removePhotograph({ lot: number, seq: photographs.find(({ sha }) => sha === PHOTO)?.seq ?? -1 })
    })
  })

  test('a campaign that is renamed, and a target that is moved', async () => {
    await makeCampaign(stage)
    await isShown(['/', '/programme', '/raised'], () => makeCampaign(stage, { name: 'Longer Bench Day' }))
    await isShown(['/', '/raised'], () => makeCampaign(stage, { name: 'Longer Bench Day', target: '4500' }))
  })
})

describe('who asks', () => {
  beforeEach(() => makeCampaign(stage))

  test('has no part in what is kept, whatever they send', async () => {
    const plain = await read('/')
    const hostile = {
      host: 'evil.example',
      'x-forwarded-host': 'evil.example',
      'x-forwarded-proto': 'ftp',
      'x-forwarded-for': '203.0.113.9',
      forwarded: 'host=evil.example',
      'accept-language': 'xx"><script>',
      'x-original-url': '/bench',
      'x-middleware-rewrite': '/bench',
      'content-security-policy': "script-src 'nonce-mine'",
      cookie: 'tagstrip-browser=a; lang=xx; theme=evil; tagstrip.session_token=forged.forged',
      range: 'bytes=0-3',
    }
    expect(await askAs('/', hostile)).toEqual({ status: 200, text: plain })
    await makeCampaign(stage, { name: 'Longer Bench Day' })
    const made = (await askAs('/', hostile)).text
    expect(made).toBe(JSON.stringify(await readingOf('/')))
    expect(await read('/')).toBe(made)
  })

  test('with a part of a page in mind, or words behind a question mark, is given no kept page, and changes none', async () => {
    const plain = await read('/')
    expect(await (await ask('/', { rsc: '1' })).text()).toBe('own page of /')
    expect(await (await ask('/?theme=evil')).text()).toBe('own page of /?theme=evil')
    expect(await read('/')).toBe(plain)
  })

  test('and is signed in has a page of their own that nothing keeps', async () => {
    const cookie = await door.sessionOf((await stage.actor('bidder', 'Ada')).personId)
    await read('/')
    const answer = await ask('/', { cookie })
    expect(answer.headers.get('cache-control')).toBe('no-store')
    expect(await answer.text()).toBe('own page of /')
    expect(answer.headers.get('content-security-policy')).toMatch(/'nonce-/)
  })

  test('is told whether what they have is still so', async () => {
    const first = await ask('/', { 'accept-encoding': 'br' })
    const etag = first.headers.get('etag') ?? ''
    expect(etag).toMatch(/^"[\w-]+-br"$/)
    expect(first.headers.get('cache-control')).toBe('public, max-age=0, s-maxage=1, must-revalidate')
    expect(first.headers.get('vary')).toContain('Cookie')
    expect(first.headers.get('content-security-policy')).toBe("script-src 'sha256-x'")
    const again = await ask('/', { 'accept-encoding': 'br', 'if-none-match': etag })
    expect(again.status).toBe(304)
    expect(again.headers.get('content-security-policy')).toBe("script-src 'sha256-x'")
    expect((await ask('/', { 'accept-encoding': 'gzip', 'if-none-match': etag })).status).toBe(200)
    await makeCampaign(stage, { name: 'Longer Bench Day' })
    expect((await ask('/', { 'accept-encoding': 'br', 'if-none-match': etag })).status).toBe(200)
  })
})

test('of what one origin asks for at once, however slowly it is made, two pages are under way, and another’s has its turn', async () => {
  let underWay = 0
  let most = 0
  const order: string[] = []
  const keptPages = openKeptPages({
    shop: {
      async make({ path }) {
        underWay += 1
        most = Math.max(most, underWay)
        await new Promise((resolve) => setTimeout(resolve, 250))
        underWay -= 1
        order.push(path)
        return { ...pageOf(path), status: path.startsWith('/units/NO-') ? 404 : 200 }
      },
      close: () => {},
    },
    now: stage.clock.now,
  })
  const slow = await openStageDoor(stage, { keptPages, trustedProxy: 'x-forwarded-for' })
  const ask = (path: string, address: string) => fetch(`${slow.url}${path}`, { headers: { 'x-forwarded-for': address } })
  try {
    const many = Array.from({ length: 8 }, (_, n) => ask(`/units/NO-0${n + 1}`, '198.51.100.1'))
    await expect.poll(() => underWay).toBeGreaterThan(0)
    const another = await ask('/lots/5', '203.0.113.2')
    expect(another.status).toBe(200)
    await Promise.all(many)
    expect(most).toBe(2)
    expect(order.indexOf('/lots/5')).toBeLessThanOrEqual(4)
  } finally {
    slow.close()
  }
})
