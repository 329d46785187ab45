import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { ADDRESSES } from '#doors/web/addresses'
import { LIVE_TOPICS } from '#doors/web/topics'
import type { Role } from '#kernel/role'
import { ACCOUNTS } from '#money/journal/journal.rules'
import { openStageDoor } from '#test/doors/web/open-door'
import { openEndedHouse } from '#test/make/told-house'
import type { Stage } from '#test/stage'
import { IDENTITIES, type Identity, makeOwned, roleOf } from './owned-things'
import { ADDRESS_OWNERS, OWNERS, OWNERSHIPS, type Owned, type Ownership, ofLot, TOPIC_OWNERS } from './owners'
import { audienceOf, POLICIES } from './policies'
import { everyProcedure } from './walk'

let stage: Stage
let door: Awaited<ReturnType<typeof openStageDoor>>
let owned: Awaited<ReturnType<typeof makeOwned>>
beforeAll(async () => {
  stage = await openEndedHouse()
  door = await openStageDoor(stage, { trustedProxy: 'x-forwarded-for' })
  owned = await makeOwned(stage, door)
}, 120_000)
afterAll(() => {
  door.close()
  stage.close()
})

interface Outcome {
  status: number
  refusal: string
  words: string
}

let asked = 0
/** A key that no form has used. */
const formKey = () => `an attack's key ${String(++asked).padStart(6, '0')}`.replaceAll(/[' ]/g, '-')

const ask = (path: string, identity: Identity, init: RequestInit = {}) =>
  fetch(door.url + path, {
    redirect: 'manual',
    ...init,
    headers: {
      cookie: owned.cookieOf(identity),
      origin: stage.house.publicUrl,
      'content-type': 'application/json',
      'x-forwarded-for': `2001:db8:${(++asked).toString(16)}::1`,
    },
  })

const kinds = new Map(everyProcedure().map(({ path, type }) => [path, type]))

/** What somebody is told who calls a procedure; figures are left out of the words, since each thing has its own. */
async function callAs(path: string, identity: Identity, input: unknown): Promise<Outcome> {
  const json = JSON.stringify(input) ?? ''
  const answer =
    kinds.get(path) === 'mutation'
      ? await ask(`/api/trpc/${path}`, identity, { method: 'POST', body: json })
      : await ask(`/api/trpc/${path}${json === '' ? '' : `?input=${encodeURIComponent(json)}`}`, identity)
  const { result, error } = (await answer.json()) as {
    result?: { data: unknown }
    error?: { message: string; data: { refusal: string; fields: object } }
  }
  const told = error ? JSON.stringify([error.message, error.data.fields]) : (JSON.stringify(result?.data) ?? '')
  return { status: answer.status, refusal: error?.data.refusal ?? '', words: told.replaceAll(/\d+/g, '#') }
}

const isIn = (roles: readonly Role[], identity: Identity) => roles.some((role) => role === roleOf(identity))

test('each procedure that more than some of the staff may call has a line that says whose its things are', () => {
  const open = Object.entries(POLICIES).filter(([, policy]) => !Array.isArray(audienceOf(policy)))
  expect(Object.keys(OWNERS).sort()).toEqual(open.map(([path]) => path).sort())
})

describe('every procedure, by everybody', () => {
  test.each(Object.entries(POLICIES))('%s lets in those listed, by what they are now', async (path, policy) => {
    const audience = audienceOf(policy)
    // What ends a session is tried with the things of somebody; here it would end the test's own.
    if (path === 'people.signOut' || path === 'sessions.endOthers') return
    for (const identity of IDENTITIES) {
      const { refusal, words } = await callAs(path, identity, undefined)
      const isTurnedAway = /Sign in first|This is done by/.test(words) && (refusal === 'not-signed-in' || refusal === 'not-yours-to-do')
      const mayCall = audience === 'anyone' || (audience === 'signed-in' ? roleOf(identity) !== null : isIn(audience, identity))
      expect(`${identity} ${isTurnedAway ? 'turned away' : 'let in'}`).toBe(`${identity} ${mayCall ? 'let in' : 'turned away'}`)
    }
  })
})

const mayHave = ({ whose, staff = [] }: Owned, identity: Identity, ownership: Ownership): boolean => {
  if (ownership === 'none') return false
  // A link is all the proof there is: whoever holds it is its donor. The other one was closed.
  if (whose === 'donor') return ownership === 'mine'
  return isIn(staff, identity) || (identity === 'buyer' && ownership === 'mine')
}

/** What ends or drops a thing comes after what else is done with it, and by its owner last of all. */
const ENDING = ['passkeys.remove', 'yours.close', 'eitherOr.drop', 'sessions.end']
const things = Object.entries(OWNERS)
  .filter((line): line is [string, Owned] => typeof line[1] !== 'string')
  .sort(([a], [b]) => ENDING.indexOf(a) - ENDING.indexOf(b))

describe.each(things)('%s', (path, line) => {
  const inputOf = (ownership: Ownership) => line.input(owned.things[ownership], formKey())

  test('tells nobody else that there is such a thing', async () => {
    for (const identity of IDENTITIES) {
      const nothing = await callAs(path, identity, inputOf('none'))
      for (const ownership of OWNERSHIPS.filter((one) => !mayHave(line, identity, one)))
        expect([identity, ownership, await callAs(path, identity, inputOf(ownership))]).toEqual([identity, ownership, nothing])
    }
  })

  test('is there for whose it is, and for those of the staff who have to do with it', async () => {
    for (const identity of IDENTITIES)
      for (const ownership of OWNERSHIPS.filter((one) => mayHave(line, identity, one)).reverse()) {
        const { refusal } = await callAs(path, identity, inputOf(ownership))
        expect([identity, ownership, ['not-found', 'not-yours-to-do', 'not-signed-in', 'bad-input', 'fault'].includes(refusal)]).toEqual([
          identity,
          ownership,
          path === 'yours.close' && identity !== 'visitor',
        ])
      }
  })
})

const ofLots = Object.entries(OWNERS).flatMap(([path, line]) => (line === 'shown lot' ? [path] : []))

test.each(ofLots)('%s tells nobody that a lot is being prepared', async (path) => {
  for (const identity of IDENTITIES) {
    const nothing = await callAs(path, identity, ofLot(path, 9_999, formKey()))
    expect([identity, await callAs(path, identity, ofLot(path, owned.draft, formKey()))]).toEqual([identity, nothing])
  }
})

const alike = Object.entries(OWNERS).flatMap(([path, line]) => (line === 'everybody’s' && kinds.get(path) === 'query' ? [path] : []))

test.each(alike)('%s answers everybody alike', async (path) => {
  const first = await callAs(path, 'visitor', undefined)
  for (const identity of IDENTITIES) expect([identity, await callAs(path, identity, undefined)]).toEqual([identity, first])
})

describe('every address', () => {
  test('has a line that says who may have what stands there', () => {
    expect(Object.keys(ADDRESS_OWNERS).sort()).toEqual(ADDRESSES.map(({ path }) => path).sort())
  })

  const one = (sql: string): string => String(stage.db.$client.prepare(`${sql} LIMIT 1`).pluck().get())
  const filled = (path: string, lot: number) =>
    path.startsWith('/schemas/')
      ? path.replace(':name', 'record-1')
      : path
          .replace(/:(number|lot)\b/, String(lot))
          .replace(/consistency\.json$/, 'consistency.json?from=1')
          .replace(':tag', one(`SELECT unit.tag FROM unit JOIN lot ON lot.unit_id = unit.id WHERE lot.number = ${owned.things.mine.lot}`))
          .replace(':serial', one('SELECT serial FROM certificate'))
          .replace(':batch', one('SELECT code FROM batch'))
          .replace(
            ':document',
            one(
              `SELECT coalesce((SELECT number FROM invoice_document, json_each(content, '$.lines') WHERE json_extract(value, '$.lot') = ${lot}), 9999)`,
            ),
          )
          .replace(':account', ACCOUNTS[0])
          .replace(':id', one('SELECT id FROM donor'))

  const statusOf = async (path: string, identity: Identity) => {
    const answer = await ask(path, identity)
    const words = (await answer.text()).replaceAll(/\d+/g, '#')
    return { status: answer.status, words: answer.status < 400 ? '' : words }
  }

  test.each(Object.entries(ADDRESS_OWNERS))('%s', async (path, line) => {
    for (const identity of IDENTITIES) {
      const { status } = await statusOf(filled(path, owned.things.mine.lot), identity)
      const may = line === 'everybody' || ('buyer' in line ? isIn(line.staff, identity) || identity === 'buyer' : isIn(line, identity))
      expect([identity, [401, 403, 404].includes(status)]).toEqual([identity, !may])
      if (/:(number|lot)\b/.test(path) && !may)
        for (const lot of [owned.things.another.lot, owned.things.none.lot, owned.draft])
          expect([identity, lot, await statusOf(filled(path, lot), identity)]).toEqual([
            identity,
            lot,
            await statusOf(filled(path, owned.things.none.lot), identity),
          ])
    }
  })

  const aboutLots = Object.entries(ADDRESS_OWNERS).flatMap(([path, line]) =>
    /:(number|lot)\b/.test(path) && !Array.isArray(line) ? [path] : [],
  )
  test.each(aboutLots)('%s is to nobody else’s eyes of a draft or of another’s as of none', async (path) => {
    for (const identity of ['visitor', 'bidder', 'buyer', 'volunteer'] as const) {
      const nothing = await statusOf(filled(path, owned.things.none.lot), identity)
      expect(await statusOf(filled(path, owned.draft), identity)).toEqual(nothing)
      if (path.includes('invoice')) expect(await statusOf(filled(path, owned.things.another.lot), identity)).toEqual(nothing)
    }
  })
})

describe('what is followed', () => {
  const follow = async (topics: string, identity: Identity) => {
    const answer = await ask(`/live?topics=${topics}`, identity)
    await answer.body?.cancel()
    return answer.status
  }
  const named = (prefix: string) => (prefix.endsWith(':') ? `${prefix}${prefix === 'lot:' ? owned.draft : 'NONE-01'}` : prefix)

  test('has a line for each', () => {
    expect(Object.keys(TOPIC_OWNERS).sort()).toEqual(LIVE_TOPICS.map(({ prefix }) => prefix).sort())
  })

  test.each(Object.entries(TOPIC_OWNERS))('%s', async (prefix, line) => {
    for (const identity of IDENTITIES) {
      const role = roleOf(identity)
      const may = line === 'everybody' || (role !== null && role !== 'bidder')
      expect([identity, await follow(named(prefix), identity)]).toEqual([identity, may ? 200 : 403])
      // One that is not theirs is not let in beside one that is.
      expect([identity, await follow(`lots,${named(prefix)}`, identity)]).toEqual([identity, may ? 200 : 403])
    }
  })
})

test('a pack is there for those who keep the books, and for everybody else as if there were none', async () => {
  const maker = await stage.as('maker')
  await maker.packs.start({ withContacts: false })
  await expect.poll(async () => (await maker.packs.all()).present?.state, { timeout: 30_000 }).toBe('done')
  const { fileName } = (await maker.packs.all()).present ?? { fileName: '' }
  for (const identity of IDENTITIES) {
    const answer = await ask(`/bench/close-out/packs/${fileName}`, identity)
    await answer.body?.cancel()
    expect([identity, answer.status]).toEqual([identity, isIn(['maker', 'treasurer'], identity) ? 200 : 404])
    expect((await ask('/bench/close-out/packs/none.zip', identity)).status).toBe(404)
  }
}, 60_000)

test('a photograph is sent in by the staff, and by whoever was sent what they bought', async () => {
  for (const identity of IDENTITIES) {
    const role = roleOf(identity)
    const { status } = await ask('/files/photographs', identity, { method: 'POST', body: 'no picture' })
    expect([identity, status]).toEqual([identity, role === null ? 401 : role === 'bidder' && identity !== 'buyer' ? 403 : 400])
  }
})
