import { afterEach, beforeEach, expect, test } from 'vitest'
import { setRole } from '#people/people/people.service'
import { openSessionLookUp } from '#people/sign-in/session-look-up'
import { openStage, type Stage } from '#test/stage'

const SECRET = 'a secret of this test, long enough for the library'
let stage: Stage
let cookies: string
let personId: string
beforeEach(async () => {
  stage = openStage({ now: Date.now() })
  await stage.actor('maker')
  personId = (await stage.actor('bidder', 'Ada')).personId
  cookies = await sessionOf(personId)
})
afterEach(() => stage.close())

const sessionOf = async (id: string) => (await stage.house.signIn.openSession(id)).map((cookie) => cookie.split(';')[0]).join('; ')
const whoIs = (given: string) => stage.house.signIn.whoIs(given)

test('a session is known beside other cookies', async () => {
  expect(await whoIs(`tagstrip-browser=abc; ${cookies}; other=1`)).toMatchObject({ personId, name: 'Ada', role: 'bidder' })
})

test('a cookie with any one character changed belongs to nobody', async () => {
  const [name = '', value = ''] = cookies.split('=')
  const plain = decodeURIComponent(value)
  for (let at = 0; at < plain.length; at++) {
    const other = plain[at] === 'A' ? 'B' : 'A'
    const spoilt = plain.slice(0, at) + other + plain.slice(at + 1)
    expect(await whoIs(`${name}=${encodeURIComponent(spoilt)}`), `character ${at}`).toBeNull()
  }
})

test('a cookie signed with another secret belongs to nobody', () => {
  expect(openSessionLookUp(stage.db, SECRET, { publicUrl: 'https://bench.example', cookiePrefix: 'tagstrip' })(cookies)).toBeNull()
})

test('a session that was closed belongs to nobody at once', async () => {
  expect(await whoIs(cookies)).not.toBeNull()
  await stage.house.signIn.close(cookies)
  expect(await whoIs(cookies)).toBeNull()
})

test('a role that was changed holds from the next call on', async () => {
  expect(await whoIs(cookies)).toMatchObject({ role: 'bidder' })
  await stage.command((turn) => setRole(turn, { email: 'ada@bidder.example', role: 'host', name: 'Ada' }))
  expect(await whoIs(cookies)).toMatchObject({ role: 'host' })
})

test('a session past its end belongs to nobody', async () => {
  stage.db.run(`UPDATE session SET expires_at = ${Date.now() - 1} WHERE person_id = '${personId}'`)
  expect(await whoIs(cookies)).toBeNull()
})

test('a session a day old is renewed by the library and stays known', async () => {
  const dayAgo = Date.now() - 86_400_000 - 1000
  stage.db.run(`UPDATE session SET updated_at = ${dayAgo}, expires_at = ${dayAgo + 30 * 86_400_000} WHERE person_id = '${personId}'`)
  expect(await whoIs(cookies)).toMatchObject({ personId })
  const [{ end } = { end: 0 }] = stage.db.all<{ end: number }>(`SELECT expires_at AS end FROM session WHERE person_id = '${personId}'`)
  expect(end).toBeGreaterThan(dayAgo + 30 * 86_400_000)
})

test('two session cookies at once are left to the library', () => {
  expect(
    openSessionLookUp(stage.db, SECRET, { publicUrl: 'https://bench.example', cookiePrefix: 'tagstrip' })(`${cookies}; ${cookies}`),
  ).toBe('ask the library')
})
