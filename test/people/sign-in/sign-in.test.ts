import { afterEach, beforeEach, expect, test } from 'vitest'
import { makeCampaign } from '#test/make/campaign'
import { codeFor, wrongInsteadOf } from '#test/make/code'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage({ now: Date.now() })
})
afterEach(() => stage.close())

test('a stranger signs in with the code from the email and is a bidder', async () => {
  const jar: string[] = []
  await stage.visitor(jar).people.askCode({ email: ' Ada@Elsewhere.example ' })
  const answer = await stage
    .visitor(jar)
    .people.enterCode({ email: 'ada@elsewhere.example', code: codeFor(stage, 'ada@elsewhere.example') })
  expect(answer).toEqual({ role: 'bidder', hasPaddle: false })
  const cookies = jar.map((cookie) => cookie.split(';')[0]).join('; ')
  expect(await stage.house.signIn.whoIs(cookies)).toMatchObject({ email: 'ada@elsewhere.example', role: 'bidder' })
  expect(jar.join()).toMatch(/HttpOnly/i)
})

test('a session opened for the first maker is one that the door recognises', async () => {
  const { personId } = await stage.actor('maker')
  const cookies = (await stage.house.signIn.openSession(personId, 'Firefox on Linux')).map((cookie) => cookie.split(';')[0]).join('; ')
  expect(await stage.house.signIn.whoIs(cookies)).toMatchObject({ personId, role: 'maker' })
  expect(await stage.house.signIn.whoIs(cookies.replace(/.{4}$/, 'AAAA'))).toBeNull()
})

test('a wrong code is refused at its field, and the right one still works', async () => {
  await stage.visitor().people.askCode({ email: 'ada@elsewhere.example' })
  const right = codeFor(stage, 'ada@elsewhere.example')
  await expect(stage.visitor().people.enterCode({ email: 'ada@elsewhere.example', code: wrongInsteadOf(right) })).rejects.toThrow(
    'does not work',
  )
  await expect(stage.visitor().people.enterCode({ email: 'ada@elsewhere.example', code: right })).resolves.toBeTruthy()
})

test('a code works once', async () => {
  await stage.visitor().people.askCode({ email: 'ada@elsewhere.example' })
  const code = codeFor(stage, 'ada@elsewhere.example')
  await stage.visitor().people.enterCode({ email: 'ada@elsewhere.example', code })
  await expect(stage.visitor().people.enterCode({ email: 'ada@elsewhere.example', code })).rejects.toThrow('does not work')
})

test('a code typed into a browser that did not ask for it is refused', async () => {
  await stage.visitor().people.askCode({ email: 'ada@elsewhere.example' })
  const code = codeFor(stage, 'ada@elsewhere.example')
  const another = stage.visitor([], undefined, 'another browser').people
  await expect(another.enterCode({ email: 'ada@elsewhere.example', code })).rejects.toThrow('did not ask')
})

test('the code itself is kept nowhere in clear', async () => {
  await stage.visitor().people.askCode({ email: 'ada@elsewhere.example' })
  const kept = JSON.stringify(stage.db.all('SELECT * FROM code_request'))
  expect(kept).toContain('ada@elsewhere.example')
  expect(kept).not.toContain(codeFor(stage, 'ada@elsewhere.example'))
})

test('a browser that asks for a seventh code within an hour is told to wait', async () => {
  for (let n = 0; n < 6; n++) await stage.visitor().people.askCode({ email: 'ada@elsewhere.example' })
  await expect(stage.visitor().people.askCode({ email: 'ada@elsewhere.example' })).rejects.toThrow('in an hour')
})

test('a paddle is given after the rules are accepted, with a number of its own and a ceiling', async () => {
  await makeCampaign(stage)
  const one = await (await stage.as('bidder', 'Ada')).people.takePaddle({ name: 'Ada', country: 'no', acceptsRules: true })
  const two = await (await stage.as('bidder', 'Bo')).people.takePaddle({ name: 'Bo', country: 'FR', acceptsRules: true })
  expect([one, two]).toEqual([
    { number: 1, country: 'NO', ceilingMinor: 100_000 },
    { number: 2, country: 'FR', ceilingMinor: 100_000 },
  ])
})

test('the maker cannot take a paddle', async () => {
  await makeCampaign(stage)
  await expect((await stage.as('maker')).people.takePaddle({ name: 'M', country: 'GB', acceptsRules: true })).rejects.toThrow('cannot bid')
})

test('a role is given by the maker only, and the last maker stays one', async () => {
  const maker = await stage.as('maker')
  await expect((await stage.as('volunteer')).people.setRole({ email: 'x@y.example', role: 'maker' })).rejects.toThrow('done by the maker')
  await expect(maker.people.setRole({ email: 'maker@maker.example', role: 'host' })).rejects.toThrow('only maker')
})

test('outside the demo nobody steps into a role', async () => {
  await makeCampaign(stage)
  const { personId } = await stage.actor('maker')
  await expect(stage.visitor().people.stepInto({ personId })).rejects.toThrow('nothing here')
  expect(await stage.visitor().people.demoPeople()).toBeNull()
})
