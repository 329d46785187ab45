import { afterAll, beforeAll, expect, test } from 'vitest'
import { openStageDoor } from '#test/doors/web/open-door'
import { makeCampaign } from '#test/make/campaign'
import { openStage, type Stage } from '#test/stage'
import { watchChanges } from './odd-caller'
import { audienceOf, POLICIES } from './policies'
import { everyProcedure } from './walk'

// Every change of the house, asked for as a page of somebody else could make a signed-in browser ask: by form, script or link.

let stage: Stage
let door: Awaited<ReturnType<typeof openStageDoor>>
let changes: ReturnType<typeof watchChanges>
const cookies = new Map<string, string>()
beforeAll(async () => {
  stage = openStage({ now: Date.now() })
  await makeCampaign(stage)
  door = await openStageDoor(stage, { trustedProxy: 'x-forwarded-for' })
  for (const role of ['bidder', 'volunteer', 'host', 'treasurer', 'maker'] as const)
    cookies.set(role, await door.sessionOf((await stage.actor(role)).personId))
  changes = watchChanges(stage)
})
afterAll(() => {
  door.close()
  stage.close()
})

const JSON_TYPE = { 'content-type': 'application/json' }
const EVIL = 'https://evil.example'
const SHAPES: [name: string, method: string, headers: Record<string, string>][] = [
  ['a script of another site', 'POST', { ...JSON_TYPE, origin: EVIL, 'sec-fetch-site': 'cross-site' }],
  ['the same in a browser that names no site', 'POST', { ...JSON_TYPE, origin: EVIL }],
  ['a frame without an origin', 'POST', { ...JSON_TYPE, origin: 'null' }],
  ['a browser that names the site alone', 'POST', { ...JSON_TYPE, 'sec-fetch-site': 'cross-site' }],
  ['a neighbour below the same name', 'POST', { ...JSON_TYPE, origin: 'https://other.bench.example', 'sec-fetch-site': 'same-site' }],
  ['a name that begins like ours', 'POST', { ...JSON_TYPE, origin: 'https://bench.example.evil.example' }],
  ['our name without TLS', 'POST', { ...JSON_TYPE, origin: 'http://bench.example' }],
  ['our name at another port', 'POST', { ...JSON_TYPE, origin: 'https://bench.example:444' }],
  ['a form', 'POST', { 'content-type': 'application/x-www-form-urlencoded', origin: EVIL, 'sec-fetch-site': 'cross-site' }],
  ['a form of plain text', 'POST', { 'content-type': 'text/plain;application/json', origin: EVIL }],
  ['a form from nowhere', 'POST', { 'content-type': 'multipart/form-data; boundary=a' }],
  ['a link or a picture', 'GET', { 'sec-fetch-site': 'cross-site', 'sec-fetch-mode': 'no-cors' }],
]

test('there are twelve', () => expect(SHAPES).toHaveLength(12))

const mutations = everyProcedure().filter(({ type }) => type === 'mutation')
let from = 0
const ask = (path: string, who: string, method: string, headers: Record<string, string>) =>
  fetch(`${door.url}${path}${method === 'GET' ? '?input=%7B%7D' : ''}`, {
    method,
    headers: { cookie: cookies.get(who) ?? '', 'x-forwarded-for': `2001:db8:${(++from).toString(16)}::1`, ...headers },
    body: method === 'GET' ? undefined : '{}',
  })

const OURS = 'taken from our own pages only'

test.each(mutations.map(({ path }) => path))('%s is asked for by no page but our own', async (path) => {
  const audience = audienceOf(POLICIES[path] ?? 'anyone')
  const who = typeof audience === 'string' ? 'maker' : (audience[0] ?? 'maker')
  changes.since()
  for (const [name, method, headers] of SHAPES) {
    const answer = await ask(`/api/trpc/${path}`, who, method, headers)
    const text = await answer.text()
    expect([name, answer.status]).toEqual([name, method === 'GET' ? 404 : 403])
    expect([name, answer.headers.get('access-control-allow-origin'), answer.headers.get('set-cookie')]).toEqual([name, null, null])
    if (method === 'POST') expect(text, name).toContain(OURS)
  }
  expect(changes.since()).toEqual([])
  // And the same from a page of ours is refused for its input, if at all.
  expect(await (await ask(`/api/trpc/${path}`, who, 'POST', { ...JSON_TYPE, origin: stage.house.publicUrl })).text()).not.toContain(OURS)
})

test('a photograph is sent by no page but our own', async () => {
  changes.since()
  for (const [name, method, headers] of SHAPES) {
    const { status } = await ask('/files/photographs', 'maker', method, headers)
    // A page that says nothing of itself is none of a browser's; a picture of plain text is none either.
    expect([name, status >= 400]).toEqual([name, true])
  }
  expect(changes.since()).toEqual([])
})

test('no other site is told beforehand that it might ask', async () => {
  for (const path of ['/api/trpc/bidding.place', '/files/photographs', '/api/reports']) {
    const answer = await fetch(door.url + path, {
      method: 'OPTIONS',
      headers: { origin: EVIL, 'access-control-request-method': 'POST', 'access-control-request-headers': 'content-type,x-tagstrip' },
    })
    expect([path, answer.ok, answer.headers.get('access-control-allow-origin')]).toEqual([path, false, null])
  }
})
