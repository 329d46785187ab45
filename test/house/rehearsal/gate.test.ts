import { createServer, type Server } from 'node:http'
import type { AddressInfo } from 'node:net'
import { afterEach, beforeEach, expect, test } from 'vitest'
import type { Rehearsal } from '#air/rehearsal/rehearsal'
import { openDoor } from '#doors/web/door'
import { openGate } from '#house/rehearsal/gate'
import { addressFor, holderOf, passFor } from '#house/rehearsal/pass'
import { readConfig } from '#runtime/settings/config'
import { makeOpenLot } from '#test/make/lot'
import { openStage, type Stage } from '#test/stage'

// Who gets into a rehearsal, and as whom.

const KEY = 'key of this rehearsal'
let stage: Stage
let server: Server
let url: string
beforeEach(async () => {
  stage = openStage()
  await makeOpenLot(stage)
  const door = openDoor({
    house: stage.house,
    trustedProxy: 'none',
    isDev: false,
    pages: async (_request, response) => void response.end('a page of the house'),
  })
  server = createServer(openGate({ key: KEY, url: 'http://localhost', inside: door }))
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  url = `http://127.0.0.1:${(server.address() as AddressInfo).port}`
})
afterEach(() => {
  server.closeAllConnections()
  server.close()
  stage.close()
})

const ADDRESSES = [
  ...['/', '/lots/1', '/rehearsal', '/sign-in', '/live?topics=lots', '/lots.json', '/lots/1/history.json', '/proceeds.json'],
  ...[
    '/programme.ics',
    '/api/now',
    '/api/health',
    '/rehearsal/clock',
    '/api/trpc/lots.list',
    '/files/photographs/a.webp',
    '/%2e%2e/x',
    '//',
  ],
]

const openWith = (pass: string) => fetch(`${url}/rehearsal/open`, { method: 'POST', body: pass })

test('nothing of it is answered without a pass, whatever is asked', async () => {
  for (const address of ADDRESSES)
    for (const method of ['GET', 'POST', 'OPTIONS']) {
      const answer = await fetch(`${url}${address}`, { method, headers: { cookie: 'tagstrip-rehearsal-pass=a.b' } })
      expect([address, method, answer.status]).toEqual([address, method, 403])
      expect(await answer.text()).toContain('This is a rehearsal')
    }
})

test('the pass of the printed address opens every page in the browser that brought it', async () => {
  const { personId } = await stage.actor('host')
  const pass = new URL(addressFor({ url, key: KEY }, personId)).hash.slice(1)
  const opened = await openWith(pass)
  expect(opened.status).toBe(204)
  const cookie = opened.headers.getSetCookie()[0] ?? ''
  expect(cookie).toContain('HttpOnly')
  const inside = await fetch(`${url}/lots.json`, { headers: { cookie: cookie.split(';')[0] ?? '' } })
  expect(inside.status).toBe(200)
  expect(await (await fetch(url, { headers: { cookie: cookie.split(';')[0] ?? '' } })).text()).toBe('a page of the house')
})

test('another rehearsal’s pass, one made out to somebody else, and the key itself open nothing', async () => {
  const [host, maker] = [await stage.actor('host'), await stage.actor('maker')]
  const own = passFor(KEY, host.personId)
  const wrong = [passFor('another key', host.personId), `${maker.personId}.${own.split('.')[1]}`, KEY, '', '.', `${own}.`, 'x'.repeat(5000)]
  for (const pass of wrong) expect([pass, (await openWith(pass)).status]).toEqual([pass, 403])
})

/** The house as if it were a rehearsal. */
const asRehearsal = (): Rehearsal => ({ ...stage.house.rehearsal, whoHolds: (pass) => holderOf(KEY, pass) })

test('whoever steps in has the role that they have in the house, and can name no other', async () => {
  const host = await stage.actor('host')
  await stage.actor('maker')
  stage.house.rehearsal = asRehearsal()
  const jar: string[] = []
  const pass = passFor(KEY, host.personId)
  expect(await stage.visitor(jar).rehearsal.enter({ pass })).toEqual({ role: 'host', name: 'host' })
  const { person } = await stage.inBrowser(jar).people.shell()
  expect(person?.role).toBe('host')
  await expect(stage.visitor().rehearsal.enter({ pass, role: 'maker' } as never)).rejects.toThrow()
})

test('a bidder of the house steps into nothing, and a house that is no rehearsal lets nobody in so', async () => {
  const bidder = await stage.actor('bidder')
  const maker = await stage.actor('maker')
  await expect(stage.visitor().rehearsal.enter({ pass: passFor(KEY, maker.personId) })).rejects.toThrow('does not open a rehearsal')
  stage.house.rehearsal = asRehearsal()
  await expect(stage.visitor().rehearsal.enter({ pass: passFor(KEY, bidder.personId) })).rejects.toThrow('does not open a rehearsal')
})

test('it listens for this machine alone unless an address is set for it', () => {
  expect(readConfig({ HOST: '0.0.0.0' } as never).rehearsalHost).toBe('127.0.0.1')
  expect(readConfig({ REHEARSAL_HOST: '192.0.2.7' } as never).rehearsalHost).toBe('192.0.2.7')
})
