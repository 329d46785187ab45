import { afterAll, beforeAll, expect, test } from 'vitest'
import { ADDRESSES } from '#doors/web/addresses'
import { openStageDoor } from '#test/doors/web/open-door'
import { openEndedHouse } from '#test/make/told-house'
import type { Stage } from '#test/stage'
import { everyProcedure } from './walk'

// A cache that stands anywhere between the house and its readers, and keeps whatever it is not forbidden to: nobody
// gets from it what was meant for somebody else. Pages are looked at in a browser (test/journeys/its-own-scripts.spec.ts).

let stage: Stage
let door: Awaited<ReturnType<typeof openStageDoor>>
const cookies: string[] = ['']
beforeAll(async () => {
  stage = await openEndedHouse()
  door = await openStageDoor(stage, { trustedProxy: 'x-forwarded-for' })
  for (const role of ['maker', 'treasurer', 'volunteer', 'bidder']) {
    const all = stage.db.$client.prepare('SELECT id FROM person WHERE role = ?').pluck().all(role) as string[]
    for (const id of all.slice(0, role === 'bidder' ? 2 : 1)) cookies.push(await door.sessionOf(id))
  }
}, 120_000)
afterAll(() => {
  door.close()
  stage.close()
})

let from = 0
const ask = async (path: string, cookie: string) => {
  const answer = await fetch(door.url + path, {
    redirect: 'manual',
    headers: { cookie, 'x-forwarded-for': `2001:db8:${(++from).toString(16)}::1` },
  })
  return {
    status: answer.status,
    text: Buffer.from(await answer.arrayBuffer()).toString('latin1'),
    kept: answer.headers.get('cache-control') ?? '',
    setsCookie: answer.headers.get('set-cookie') !== null,
  }
}

/** RFC 9111: forbidden is what says no-store; private forbids it to what many use. All else, the careless keep. */
const mayBeKept = (kept: string) => !/no-store|private/.test(kept)

/** A path for each thing that the address may name. */
function pathsOf(path: string): string[] {
  const { $client } = stage.db
  const some = (sql: string) => ($client.prepare(sql).pluck().all() as (string | number)[]).slice(0, 2).map(String)
  const values =
    path.includes('lots/') || path.includes('sending/')
      ? some("SELECT number FROM lot WHERE state = 'sold' ORDER BY number")
      : path.includes('units/')
        ? some('SELECT tag FROM unit')
        : path.includes('certificates/')
          ? some('SELECT serial FROM certificate')
          : path.includes('donors/')
            ? some('SELECT id FROM donor')
            : ['1']
  return /:\w+/.test(path) ? values.map((value) => path.replaceAll(/:\w+/g, encodeURIComponent(value))) : [path]
}

const tried = new Set<number>()
test.each(ADDRESSES.map(({ path }) => path))(
  '%s gives nobody by a cache what it would not give them itself',
  async (path) => {
    for (const one of pathsOf(path)) {
      // The clock of a stage stands still, so what differs between two answers is who asked.
      const byVisitor = await ask(one, '')
      for (const cookie of path.endsWith('.pdf') ? cookies.slice(0, 3) : cookies) {
        const answer = await ask(one, cookie)
        tried.add(answer.status)
        if (!mayBeKept(answer.kept)) continue
        expect([one, answer.status, answer.setsCookie]).toEqual([one, byVisitor.status, false])
        expect(answer.text === byVisitor.text, `${one} may be kept, and is another for who is signed in`).toBe(true)
      }
    }
  },
  60_000,
)

test('among what was asked were things that somebody may have and others not', () => {
  expect([...tried]).toEqual(expect.arrayContaining([200, 401, 403]))
})

test('no answer to a call may be kept, refused or not', async () => {
  for (const { path, type } of everyProcedure().filter((one) => one.type === 'query'))
    for (const cookie of cookies.slice(0, 3))
      expect([type, path, (await ask(`/api/trpc/${path}`, cookie)).kept]).toEqual([type, path, 'no-store'])
}, 60_000)

test('neither may a refusal, the clock or what a donor opens with a key', async () => {
  for (const path of ['/live', '/api/now', '/api/health', '/files/x.webp', '/bench/close-out/packs/a.zip', '/%00'])
    expect([path, (await ask(path, cookies[1] ?? '')).kept]).toEqual([path, 'no-store'])
})
