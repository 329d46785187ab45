import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
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

const sessionOf = async (id: string) =>
  (await stage.house.signIn.openSession(id, 'Firefox on Linux')).map((cookie) => cookie.split(';')[0]).join('; ')
const whoIs = async (given: string) => stage.house.signIn.whoIs(given)
const lookUpWith = (secret: string) => openSessionLookUp(stage.db, secret, { publicUrl: 'https://bench.example', cookiePrefix: 'tagstrip' })

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
  expect(lookUpWith(SECRET)(cookies, Date.now())).toBeNull()
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

test('a cookie of the same name that another host set beside ours is passed over', async () => {
  const [name = ''] = cookies.split('=')
  expect(await whoIs(`${name}=planted.AAAA; ${cookies}`)).toMatchObject({ personId })
  expect(await whoIs(`${cookies}; ${name}=planted.AAAA`)).toMatchObject({ personId })
  expect(await whoIs(`${name}=planted.AAAA; ${name}=planted.BBBB`)).toBeNull()
})

const HOUR = 3_600_000
const DAY = 24 * HOUR
/** Makes all sessions as old, and as long unused, as is said. */
const age = (opened: number, used: number) =>
  stage.db.run(`UPDATE session SET created_at = ${Date.now() - opened}, updated_at = ${Date.now() - used}`)

test.each([
  ['bidder', 696, 696, true],
  ['bidder', 7200, 696, true],
  ['bidder', 744, 720, false],
  ['host', 11.9, 11.9, true],
  ['host', 12, 12, false],
  ['host', 166, 1, true],
  ['host', 168, 1, false],
  ['maker', 168, 0, false],
  ['volunteer', 48, 13, false],
  ['treasurer', 48, 13, false],
] as const)('the session of a %s that was opened %d hours ago and used %d hours ago holds: %s', async (role, opened, used, holds) => {
  const { personId: id } = await stage.actor(role, 'Bo')
  const theirs = await sessionOf(id)
  age(opened * HOUR, used * HOUR)
  expect((await whoIs(theirs)) !== null).toBe(holds)
})

test('whoever is made one of the staff keeps no session that is older than theirs may be', async () => {
  age(8 * DAY, HOUR)
  expect(await whoIs(cookies)).not.toBeNull()
  await stage.command((turn) => setRole(turn, { email: 'ada@bidder.example', role: 'host', name: 'Ada' }))
  expect(await whoIs(cookies)).toBeNull()
})

test('using a session moves its end on, and that is written down once in five minutes at most', async () => {
  const usedAt = () => stage.db.all<{ at: number }>(`SELECT updated_at AS at FROM session WHERE person_id = '${personId}'`)[0]?.at ?? 0
  age(DAY, 4 * 60_000)
  const before = usedAt()
  await whoIs(cookies)
  await stage.command(() => {})
  expect(usedAt()).toBe(before)
  age(DAY, 5 * 60_000)
  await whoIs(cookies)
  await stage.command(() => {})
  expect(usedAt()).toBeGreaterThan(Date.now() - 10_000)
})

test('to look at a screen of the staff is not to use a session', async () => {
  const { personId: id } = await stage.actor('host', 'Bo')
  const theirs = await sessionOf(id)
  age(HOUR, HOUR)
  const holds = stage.house.signIn.staffWatch(theirs)
  expect(holds?.()).toBe(true)
  await stage.command(() => {})
  expect(stage.db.all<{ n: number }>(`SELECT count(*) AS n FROM session WHERE updated_at > ${Date.now() - HOUR / 2}`)).toEqual([{ n: 0 }])
  expect(stage.house.signIn.staffWatch(cookies)).toBeNull()
})

test('with another secret nobody is signed in any more, and no session of before stands in a list', async () => {
  expect(stage.db.all('SELECT * FROM session')).toHaveLength(1)
  writeFileSync(join(stage.dir, 'keys', 'session.secret'), 'another secret of this house, as long as its own')
  stage.house.close()
  const again = openStage({ now: Date.now(), dir: stage.dir })
  expect(again.house.signIn.whoIs(cookies)).toBeNull()
  expect(again.db.all('SELECT * FROM session')).toEqual([])
  again.house.close()
  stage = openStage({ now: Date.now() })
})

test('a house that is opened again with its secret keeps who is signed in', async () => {
  stage.house.close()
  const again = openStage({ now: Date.now(), dir: stage.dir })
  expect(again.house.signIn.whoIs(cookies)).toMatchObject({ personId })
  again.house.close()
  stage = openStage({ now: Date.now() })
})
