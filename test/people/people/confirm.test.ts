import { afterEach, beforeEach, expect, test } from 'vitest'
import { saveCampaign } from '#people/campaign/campaign.service'
import { campaignForm, makeCampaign } from '#test/make/campaign'
import { codeFor, wrongInsteadOf } from '#test/make/code'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
let jar: string[]
beforeEach(async () => {
  stage = openStage({ now: Date.now() })
  await makeCampaign(stage)
  jar = await stage.house.signIn.openSession((await stage.actor('maker')).personId, 'Firefox on Linux')
})
afterEach(() => stage.close())

const me = () => stage.inBrowser(jar)
const codeSent = (to = 'maker@maker.example'): string => codeFor(stage, to)
const tenMinutesPass = () => stage.db.run('UPDATE session SET created_at = created_at - 601000, confirmed_at = confirmed_at - 601000')
const change = () => me().people.setRole({ email: 'cy@elsewhere.example', role: 'host' })

test('to have signed in a moment ago is proof enough; ten minutes later it is not', async () => {
  await expect(change()).resolves.toBeTruthy()
  tenMinutesPass()
  await expect(change()).rejects.toThrow('First confirm that it is you')
})

test('a code that was mailed to one’s own address confirms this session for ten minutes, and opens no other', async () => {
  tenMinutesPass()
  expect(await me().confirm.ways()).toEqual({ email: 'maker@maker.example', hasPasskey: false, publicUrl: 'https://bench.example' })
  expect(await me().confirm.sendCode()).toEqual({ email: 'maker@maker.example', demoCode: null })
  await me().confirm.byCode({ code: codeSent() })
  await expect(change()).resolves.toBeTruthy()
  expect(stage.db.all('SELECT * FROM session')).toHaveLength(1)
  tenMinutesPass()
  await expect(change()).rejects.toThrow('First confirm')
})

test('another session of the same person is not confirmed with it', async () => {
  const other = await stage.house.signIn.openSession((await stage.actor('maker')).personId, 'Chrome on Android')
  tenMinutesPass()
  await me().confirm.sendCode()
  await me().confirm.byCode({ code: codeSent() })
  await expect(stage.inBrowser(other).people.setRole({ email: 'di@elsewhere.example', role: 'host' })).rejects.toThrow('First confirm')
})

test('a wrong code confirms nothing and says so at its field; a code counts once', async () => {
  tenMinutesPass()
  await me().confirm.sendCode()
  const right = codeSent()
  await expect(me().confirm.byCode({ code: wrongInsteadOf(right) })).rejects.toThrow('does not work')
  await expect(change()).rejects.toThrow('First confirm')
  await me().confirm.byCode({ code: right })
  await expect(me().confirm.byCode({ code: right })).rejects.toThrow('does not work')
})

test('a code of somebody else confirms nothing', async () => {
  await stage.actor('host')
  tenMinutesPass()
  await stage.visitor([], undefined, 'another browser').people.askCode({ email: 'host@host.example' })
  await me().confirm.sendCode()
  const theirs = codeSent('host@host.example')
  if (theirs !== codeSent()) await expect(me().confirm.byCode({ code: theirs })).rejects.toThrow('does not work')
  await expect(change()).rejects.toThrow('First confirm')
})

test('a demo answers the code that it would mail; a house that is none never does', async () => {
  const demo = openStage({ now: Date.now(), isDemo: true })
  await demo.command((turn) => saveCampaign(turn, campaignForm(Date.now()), { isDemo: true }))
  const theirs = await demo.house.signIn.openSession((await demo.actor('maker')).personId, 'Firefox on Linux')
  const { demoCode } = await demo.inBrowser(theirs).confirm.sendCode()
  expect(demoCode).toMatch(/^\d{6}$/)
  await demo.inBrowser(theirs).confirm.byCode({ code: demoCode ?? '' })
  demo.close()
  const setButReal = openStage({ now: Date.now(), isDemo: true })
  await makeCampaign(setButReal)
  const real = await setButReal.house.signIn.openSession((await setButReal.actor('maker')).personId, 'Firefox on Linux')
  expect((await setButReal.inBrowser(real).confirm.sendCode()).demoCode).toBeNull()
  setButReal.close()
})

test('codes that confirm are asked for and entered under the limits of a sign-in', async () => {
  const refused: string[] = []
  for (let n = 0; n < 40; n++)
    await me()
      .confirm.byCode({ code: '123456' })
      .catch((reason) => refused.push(reason.code))
  expect(refused).toHaveLength(40)
  expect(refused.filter((code) => code !== 'TOO_MANY_REQUESTS').length).toBeLessThanOrEqual(30)
  expect(refused.at(-1)).toBe('TOO_MANY_REQUESTS')
})
