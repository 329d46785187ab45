import { afterEach, beforeEach, expect, test } from 'vitest'
import { ASKED_COOKIE, readAsked } from '#people/sign-in/asked-cookie.rules'
import { readCookie } from '#runtime/call/browser-cookie'
import { makeCampaign } from '#test/make/campaign'
import { codeFor, wrongInsteadOf } from '#test/make/code'
import { openStage, type Stage } from '#test/stage'
import { openStageDoor } from './open-door'

let stage: Stage
let door: Awaited<ReturnType<typeof openStageDoor>>
let jar: Map<string, string>
beforeEach(async () => {
  stage = openStage({ now: Date.now() })
  await makeCampaign(stage)
  door = await openStageDoor(stage)
  jar = new Map()
})
afterEach(() => {
  door.close()
  stage.close()
})

/** Sends the form as a browser without script does, and keeps the cookies that come back. */
async function send(fields: Record<string, string>, headers: Record<string, string> = { origin: stage.house.publicUrl }) {
  const answer = await fetch(`${door.url}/sign-in`, {
    method: 'POST',
    redirect: 'manual',
    headers: { cookie: [...jar].map((pair) => pair.join('=')).join('; '), ...headers },
    body: new URLSearchParams(fields),
  })
  for (const header of answer.headers.getSetCookie()) {
    const [name = '', value = ''] = (header.split(';')[0] ?? '').split('=')
    if (value === '') jar.delete(name)
    else jar.set(name, value)
  }
  return { status: answer.status, to: answer.headers.get('location'), asked: readAsked(jar.get(ASKED_COOKIE)) }
}

const ADA = 'ada@abbott.example'

test('without script somebody signs in with a code, and no address of theirs is in any address', async () => {
  const first = await send({ email: 'Ada@abbott.example', next: '/lots/7' })
  expect(first).toEqual({
    status: 303,
    to: '/sign-in?next=%2Flots%2F7',
    asked: { email: ADA, isSent: true, demoCode: null, refused: null },
  })
  const second = await send({ email: ADA, code: ` ${codeFor(stage, ADA)} `, next: '/lots/7' })
  expect(second).toEqual({ status: 303, to: '/paddle?next=%2Flots%2F7', asked: null })
  const cookies = [...jar].map((pair) => pair.join('=')).join('; ')
  expect(stage.house.signIn.whoIs(cookies)?.email).toBe(ADA)
})

test('what is wrong is said on the page at its field, and what was typed is there again', async () => {
  const slip = await send({ email: 'ada at abbott' })
  expect(slip.to).toBe('/sign-in')
  expect(slip.asked).toMatchObject({
    email: 'ada at abbott',
    isSent: false,
    refused: { fields: { email: expect.stringContaining('email address') } },
  })
  await send({ email: ADA })
  const wrong = await send({ email: ADA, code: wrongInsteadOf(codeFor(stage, ADA)) })
  expect(wrong).toMatchObject({
    status: 303,
    asked: { isSent: true, refused: { fields: { code: expect.stringContaining('does not work') } } },
  })
  expect(readCookie([...jar].map((pair) => pair.join('=')).join('; '), 'tagstrip.session_token')).toBeNull()
})

test('somebody can begin again with another address', async () => {
  await send({ email: ADA })
  expect(await send({ email: ADA, code: '', again: '1', next: '//elsewhere.example' })).toEqual({
    status: 303,
    to: '/sign-in',
    asked: null,
  })
})

test('a page of another site signs nobody in', async () => {
  const others: Record<string, string>[] = [{ origin: 'https://elsewhere.example' }, { origin: 'null' }, { 'sec-fetch-site': 'cross-site' }]
  for (const headers of others) expect((await send({ email: ADA }, headers)).status).toBe(403)
  expect(stage.letters()).toEqual([])
})

test('codes asked for without script count like the others', async () => {
  for (let times = 0; times < 6; times++) await send({ email: ADA })
  expect((await send({ email: ADA })).asked).toMatchObject({
    isSent: false,
    refused: { fields: { email: expect.stringContaining('A lot of codes') } },
  })
  expect(stage.letters()).toHaveLength(6)
})

test('any other form that is sent without script says that it needs script', async () => {
  const answer = await fetch(`${door.url}/paddle`, { method: 'POST', body: new URLSearchParams({ name: 'Ada' }) })
  expect(answer.status).toBe(404)
  expect(await answer.text()).toContain('needs a browser that runs scripts')
})

test('a browser that sent such a form shows it to somebody as a page with a way back, in words that are only words', async () => {
  const asBrowser = { method: 'POST', body: new URLSearchParams({ choice: '1000' }), headers: { accept: 'text/html,*/*;q=0.8' } }
  const answer = await fetch(`${door.url}/lots/11?a=<b>`, asBrowser)
  expect(answer.status).toBe(404)
  expect(answer.headers.get('content-type')).toContain('text/html')
  expect(answer.headers.get('content-security-policy')).toContain("default-src 'none'")
  const page = await answer.text()
  expect(page).toContain('needs a browser that runs scripts')
  expect(page).toContain('<a href="/lots/11">')
  const odd = await fetch(`${door.url}/%22%3E<i>'`, asBrowser)
  expect(await odd.text()).not.toMatch(/<i>|"><|'/)
})
