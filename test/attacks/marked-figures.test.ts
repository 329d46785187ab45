import { createHash } from 'node:crypto'
import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from 'node:fs'
import { createServer, type Server } from 'node:http'
import type { AddressInfo } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { Writable } from 'node:stream'
import canonicalize from 'canonicalize'
import pino from 'pino'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { rootRouter } from '#doors/trpc/root'
import { ADDRESSES } from '#doors/web/addresses'
import { openDoor } from '#doors/web/door'
import { LIVE_TOPICS } from '#doors/web/topics'
import type { PackMeans } from '#end/packs/contents.service'
import { PACK_MEANS } from '#house/open/pack-means'
import { copyForRehearsal } from '#house/rehearsal/copy'
import { HOUR, MINUTE } from '#kernel/instant'
import { READER_PLACE } from '#people/outbox/sealed-words'
import { listAllBids } from '#sale/bids/bids.service'
import { closeDueLots } from '#sale/closings/close-due.service'
import { getLotRow } from '#sale/lots/lots.service'
import { makeCopy } from '#test/make/copy'
import { gathered } from '#test/make/gathered'
import { lotForm, makeBidder, makeOpenLot, makePreparedLot } from '#test/make/lot'
import { filesOf, packInto } from '#test/make/packed'
import { openStage, type Stage } from '#test/stage'

// Amounts that stand nowhere else are planted as reserves and maxima, and looked for wherever the house shows anything.

/** As they are typed, in pounds; also looked for in pence and with a comma between thousands. */
const OPEN_RESERVE = '9731.93'
const DRAFT_RESERVE = '617.39'
const LEADER = '743.87'
const WOKEN = '349.21'
const WAITING = '757.43'
const REFUSED = '9741.57'
const FIGURES = [OPEN_RESERVE, DRAFT_RESERVE, LEADER, WOKEN, WAITING, REFUSED]
const MARKS = FIGURES.flatMap((figure) => [figure, figure.replace('.', ''), figure.replace(/^9/, '9,')]).map(
  // As a number or an amount of its own: five digits within a digest are no figure.
  (mark) => new RegExp(`(?<![0-9A-Za-z_+/-])${mark.replace('.', '\\.')}(?![0-9A-Za-z_+/-])`),
)

const LINKS = [
  { lot: 1, maximum: '300' },
  { lot: 2, maximum: WOKEN },
  { lot: 3, maximum: WAITING },
]

let stage: Stage
let server: Server
let url: string
let dir: string
let logged = ''
let cleo: Awaited<ReturnType<typeof makeBidder>>

beforeAll(async () => {
  stage = openStage()
  dir = mkdtempSync(join(tmpdir(), 'tagstrip-marked-'))
  stage.house.log = pino(
    { level: 'debug' },
    new Writable({
      write(chunk, _encoding, done) {
        logged += String(chunk)
        done()
      },
    }),
  ) as never
  await makeOpenLot(stage, { closesIn: MINUTE })
  await makeOpenLot(stage, { tag: 'TERN-04', closesIn: HOUR, form: { reserveKind: 'amount', reserve: OPEN_RESERVE } })
  await makeOpenLot(stage, { tag: 'TERN-05', closesIn: 2 * HOUR })
  await makePreparedLot(stage, { tag: 'TERN-06', closesIn: 3 * HOUR, form: { reserveKind: 'amount', reserve: DRAFT_RESERVE } })
  const maker = await stage.as('maker')
  for (const reserve of [EARLIER_RESERVE, DRAFT_RESERVE]) await maker.lots.save(lotForm(4, { reserveKind: 'amount', reserve }))
  await (await makeBidder(stage, 'Ada')).bid(1, '400')
  await (await makeBidder(stage, 'Ben')).bid(2, LEADER)
  cleo = await makeBidder(stage, 'Cleo')
  await cleo.caller.eitherOr.make({ key: 'either-or-of-cleo-1', links: LINKS, mostWins: 1, cap: '' })
  stage.clock.pass(2 * MINUTE)
  await stage.command(closeDueLots)
  await cleo.bid(3, REFUSED).catch(() => {})
  // The certificates of these units are made up, and no pack could read them.
  stage.db.$client.exec('DROP TRIGGER certificate_is_never_deleted; DELETE FROM certificate')
  const door = openDoor({ house: stage.house, trustedProxy: 'none', isDev: false, pages: async (_, response) => void response.end() })
  server = createServer(door)
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  url = `http://127.0.0.1:${(server.address() as AddressInfo).port}`
}, 120_000)
afterAll(() => {
  server.closeAllConnections()
  server.close()
  stage.close()
  rmSync(dir, { recursive: true, force: true })
})

/** A reserve that was set and then set anew; so large that the bytes of the number stand nowhere by chance. */
const EARLIER_RESERVE = '731939317.53'
const earlierBytes = Buffer.alloc(5)
earlierBytes.writeUIntBE(Number(EARLIER_RESERVE.replace('.', '')), 0, 5)

const allFiles = (below: string): string[] =>
  readdirSync(below).flatMap((name) => (statSync(join(below, name)).isDirectory() ? allFiles(join(below, name)) : [join(below, name)]))

const marksIn = (text: string): string[] => MARKS.flatMap((mark) => mark.exec(text)?.[0] ?? [])
const clean = (where: string, text: string) => expect([where, marksIn(text)]).toEqual([where, []])

test('they are planted: whose they are sees them, and so does the maker their reserve', async () => {
  expect(JSON.stringify(await cleo.caller.eitherOr.mine())).toContain(WAITING.replace('.', ''))
  const mine = listAllBids(stage.sight()).map(({ maximumMinor }) => maximumMinor)
  expect(mine.sort((a, b) => a - b)).toEqual([30000, 34921, 40000, 74387])
  expect([2, 4].map((number) => getLotRow(stage.sight(), number).reserve?.amountMinor)).toEqual([973193, 61739])
})

test('the database, its log and a backup without its keys hold none, in digits or as bytes', async () => {
  const backup = await makeCopy(stage.dir, join(dir, 'backups'), stage.clock.now())
  rmSync(join(backup, 'keys'), { recursive: true })
  const files = [...allFiles(backup), ...['tagstrip.db', 'tagstrip.db-wal'].map((name) => join(stage.dir, name))]
  expect(files).toEqual(expect.arrayContaining([join(backup, 'tagstrip.db'), join(stage.dir, 'tagstrip.db-wal')]))
  for (const file of files) {
    clean(file, readFileSync(file).toString('latin1'))
    expect([file, readFileSync(file).includes(earlierBytes), readFileSync(file).includes(EARLIER_RESERVE.replace('.', ''))]).toEqual([
      file,
      false,
      false,
    ])
  }
})

test('no column of the database holds one, nor a digest or random bytes that would let one be guessed', () => {
  const { $client: handle } = stage.db
  const tables = handle.prepare("SELECT name FROM sqlite_schema WHERE type = 'table'").pluck().all() as string[]
  const nonces = [...listAllBids(stage.sight()).map(({ nonce }) => nonce), getLotRow(stage.sight(), 2).reserve?.nonce ?? '']
  expect(nonces.every((nonce) => /^[0-9a-f]{64}$/.test(nonce))).toBe(true)
  // A history opens what it committed to when its lot has ended: the first has.
  const openedNow = handle.prepare(`SELECT body FROM ledger_leaf WHERE body LIKE '%"revealed"%'`).pluck().all().join()
  for (const table of tables) {
    const rows = JSON.stringify(handle.prepare(`SELECT * FROM "${table}"`).all())
    clean(table, rows)
    expect([table, nonces.filter((nonce) => rows.includes(nonce) && !openedNow.includes(nonce))]).toEqual([table, []])
  }
  const form = { key: 'either-or-of-cleo-1', links: LINKS, mostWins: 1, cap: '', by: cleo.actor.personId }
  const guessed = createHash('sha256')
    .update(canonicalize(form) ?? '')
    .digest('hex')
  expect(handle.prepare('SELECT digest FROM request').pluck().all()).not.toContain(guessed)
})

test('no letter holds one as it waits or as the staff see it; the bidder’s own has a sign in its place', async () => {
  await gathered(stage)
  const letters = JSON.stringify(await (await stage.as('maker')).outbox.list())
  expect(letters).toContain(`your maximum of ${READER_PLACE} is now a bid here`)
  clean('the outbox', letters)
  clean('the table of letters', JSON.stringify(stage.letters()))
})

test('no pack holds one, in no row, no JSON, no sheet, no history and no paper', async () => {
  const means: PackMeans = {
    ...PACK_MEANS,
    // What a paper is set from, since the words of a PDF are not to be searched.
    setPaper: async (order) => Buffer.from(JSON.stringify(order)),
  }
  const packed = await filesOf(await packInto(join(dir, 'pack.zip'), stage, true, means))
  expect(packed.size).toBeGreaterThan(50)
  expect([...packed.keys()]).toContain('papers/invoices/lot-1.pdf')
  for (const [path, body] of packed) clean(path, body.toString('latin1'))
}, 60_000)

test('no rehearsal holds one', async () => {
  const into = join(dir, 'rehearsal')
  await copyForRehearsal(stage.dir, into, stage.clock.now())
  for (const file of allFiles(into)) clean(file, readFileSync(file).toString('latin1'))
})

test('no answer that is public holds one, and no live frame', async () => {
  for (const address of ['/lots.json', '/proceeds.json', '/programme.ics', '/lots/2/history.json', '/lots/3/history.json']) {
    const answer = await fetch(`${url}${address}`)
    expect([address, answer.status]).toEqual([address, 200])
    clean(address, await answer.text())
  }
  for (const topic of LIVE_TOPICS) {
    const names = topic.prefix.endsWith(':')
      ? ['1', '2', '3', '4', 'lots', 'TERN-04'].map((end) => `${topic.prefix}${end}`)
      : [topic.prefix]
    for (const name of names) clean(`live ${name}`, JSON.stringify(topic.frame(stage.sight(), name)) ?? '')
  }
  expect(LIVE_TOPICS.find(({ prefix }) => prefix === 'lot:')?.frame(stage.sight(), 'lot:2')).toMatchObject({ number: 2 })
})

test('no address and no paper that it prints holds one, whoever of the staff asks', async () => {
  let answered = 0
  for (const role of ['maker', 'host', 'treasurer', 'volunteer'] as const) {
    const reader = await stage.actor(role)
    for (const address of ADDRESSES)
      for (const lot of ['1', '2', '3', '4']) {
        const params = Object.fromEntries(
          [...address.path.matchAll(/:(\w+)/g)].map(([, name = '']) => [name, name === 'tag' ? 'TERN-04' : lot]),
        )
        const told = answerOf(() => address.answer(stage.sight(), params, new URLSearchParams(), reader)?.body)
        if (told !== undefined) answered++
        clean(
          `${address.path} of ${lot} as ${role}`,
          told instanceof Uint8Array ? Buffer.from(told).toString('latin1') : (JSON.stringify(told) ?? ''),
        )
      }
  }
  expect(answered).toBeGreaterThan(40)
})

/** What is answered, or the words of the refusal. */
function answerOf(ask: () => unknown): unknown {
  try {
    return ask()
  } catch (reason) {
    return String(reason)
  }
}

/** What is read without an argument, and what is read of a lot. */
const roles = ['maker', 'host', 'treasurer', 'volunteer', 'bidder', null] as const
test.each(roles)('no procedure tells one to %s, in an answer or in why it refuses', async (role) => {
  const caller = (role === null ? stage.visitor() : await stage.as(role)) as unknown as Record<
    string,
    Record<string, (input?: unknown) => Promise<unknown>>
  >
  const queries = Object.entries(rootRouter._def.procedures as unknown as Record<string, { _def: { type: string } }>).flatMap(
    ([name, { _def }]) => (_def.type === 'query' ? [name] : []),
  )
  expect(queries.length).toBeGreaterThan(40)
  let answered = 0
  for (const name of queries) {
    const [room = '', procedure = ''] = name.split('.')
    for (const input of [undefined, { lot: 2 }, { lot: 3 }, { number: 2 }, { lot: 4 }]) {
      const told = await caller[room]?.[procedure]?.(input).then(
        (answer) => {
          answered++
          return JSON.stringify(answer) ?? ''
        },
        (reason: unknown) => String(reason),
      )
      // The maker sets reserves and reads them where they are set.
      const owns = role === 'maker' && MAKERS_OWN.includes(name)
      if (!owns) clean(`${name} as ${role}`, told ?? '')
    }
  }
  expect(answered).toBeGreaterThan(10)
})
const MAKERS_OWN = ['lots.prepared']

test('a bid that is refused repeats nobody else’s figure', async () => {
  const dora = await makeBidder(stage, 'Dora')
  for (const maximum of ['1', '25', '300', '700', '731', '743', '1001', '99999999'])
    for (const lot of [1, 2, 3, 4]) clean(`a bid of ${maximum}`, await dora.bid(lot, maximum).then(JSON.stringify, String))
})

test('the log holds none', () => {
  stage.house.log.error({ err: new Error('to see that it is read') }, 'a line')
  expect(logged).toContain('to see that it is read')
  clean('the log', logged)
})
