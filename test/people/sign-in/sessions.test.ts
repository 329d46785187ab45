import { afterEach, beforeEach, expect, test } from 'vitest'
import { codeFor } from '#test/make/code'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
let personId: string
beforeEach(async () => {
  stage = openStage({ now: Date.now() })
  personId = (await stage.actor('bidder', 'Ada')).personId
})
afterEach(() => stage.close())

const open = (device: string) => stage.house.signIn.openSession(personId, device)

test('one sees where one is signed in: since when, when it was used last, in which browser, and which is this one', async () => {
  const here = await open('Firefox on Linux')
  await open('Chrome on Android')
  const { sessions } = await stage.inBrowser(here).sessions.mine()
  expect(sessions.map(({ device, isThis }) => ({ device, isThis }))).toHaveLength(2)
  expect(sessions).toContainEqual({
    id: expect.any(String),
    device: 'Firefox on Linux',
    openedAt: expect.closeTo(Date.now(), -5),
    usedAt: expect.closeTo(Date.now(), -5),
    endsAt: expect.closeTo(Date.now() + 30 * 86_400_000, -5),
    isThis: true,
  })
  expect(sessions).toContainEqual(expect.objectContaining({ device: 'Chrome on Android', isThis: false }))
})

test('neither the token of a session nor an address of a network stands in what a page is given', async () => {
  const here = await open('Firefox on Linux')
  const [{ token } = { token: '' }] = stage.db.all<{ token: string }>('SELECT token FROM session')
  const told = JSON.stringify(await stage.inBrowser(here).sessions.mine())
  expect(told).not.toContain(token)
  expect(told).not.toContain('192.0.2.1')
})

test('one session is ended, and the browser that held it is signed in no more', async () => {
  const here = await open('Firefox on Linux')
  const there = await open('Chrome on Android')
  const { sessions } = await stage.inBrowser(here).sessions.mine()
  const id = sessions.find(({ isThis }) => !isThis)?.id ?? ''
  await stage.inBrowser(here).sessions.end({ id })
  await expect(stage.inBrowser(there).sessions.mine()).rejects.toThrow('Sign in first')
  await expect(stage.inBrowser(here).sessions.end({ id })).rejects.toThrow('already ended')
  expect((await stage.inBrowser(here).sessions.mine()).sessions).toHaveLength(1)
})

test('all others are ended at once, and this one stays', async () => {
  const here = await open('Firefox on Linux')
  const others = [await open('Chrome on Android'), await open('Safari on an iPhone')]
  expect(await stage.inBrowser(here).sessions.endOthers()).toEqual({ ended: 2 })
  for (const other of others) await expect(stage.inBrowser(other).sessions.mine()).rejects.toThrow('Sign in first')
  expect((await stage.inBrowser(here).sessions.mine()).sessions).toEqual([expect.objectContaining({ isThis: true })])
})

test('nobody sees or ends a session of somebody else', async () => {
  const mine = await open('Firefox on Linux')
  const other = await stage.house.signIn.openSession((await stage.actor('bidder', 'Bo')).personId, 'Chrome on Android')
  const id = (await stage.inBrowser(mine).sessions.mine()).sessions[0]?.id ?? ''
  expect((await stage.inBrowser(other).sessions.mine()).sessions.map((one) => one.id)).not.toContain(id)
  await expect(stage.inBrowser(other).sessions.end({ id })).rejects.toThrow('already ended')
  await stage.inBrowser(other).sessions.endOthers()
  expect((await stage.inBrowser(mine).sessions.mine()).sessions).toHaveLength(1)
})

test('a session that has ended stands in no list, and is forgotten at the next sign-in', async () => {
  const old = await open('Chrome on Android')
  stage.db.run('UPDATE session SET updated_at = 0, created_at = 0, expires_at = 0')
  const here = await open('Firefox on Linux')
  expect((await stage.inBrowser(here).sessions.mine()).sessions).toHaveLength(1)
  expect(stage.house.signIn.whoIs(old.join())).toBeNull()
  const jar: string[] = []
  await stage.visitor(jar).people.askCode({ email: 'bo@elsewhere.example' })
  const code = codeFor(stage, 'bo@elsewhere.example')
  await stage.visitor(jar).people.enterCode({ email: 'bo@elsewhere.example', code })
  expect(stage.db.all('SELECT * FROM session WHERE updated_at = 0')).toEqual([])
})

test('the session that a code opened names the browser, in words only', async () => {
  const jar: string[] = []
  await stage.visitor(jar).people.askCode({ email: 'bo@elsewhere.example' })
  const code = codeFor(stage, 'bo@elsewhere.example')
  await stage.visitor(jar).people.enterCode({ email: 'bo@elsewhere.example', code })
  expect((await stage.inBrowser(jar).sessions.mine()).sessions.map(({ device }) => device)).toEqual(['Firefox on Linux'])
})
