import { afterEach, expect, test } from 'vitest'
import { type DoorEvent, noteEvent, originOf } from '#runtime/settings/events'
import { openLog } from '#runtime/settings/log'
import { openStageDoor } from '#test/doors/web/open-door'
import { codeFor, wrongInsteadOf } from '#test/make/code'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { openStage, type Stage } from '#test/stage'

const ADDRESS = '203.0.113.77'
const NOW = Date.UTC(2027, 2, 13, 12)
let lines: string[] = []
const openLines = () => {
  lines = []
  return openLog('info', { write: (line) => void lines.push(line) })
}
const events = () =>
  lines
    .map((line) => JSON.parse(line) as Record<string, string>)
    .flatMap(({ time: _time, level: _level, msg: _msg, ...facts }) => ('event' in facts ? [facts] : []))

let stage: Stage | undefined
afterEach(() => {
  stage?.close()
  stage = undefined
})

test('an event names no address, and one origin is told from another', () => {
  const log = openLines()
  noteEvent(log, 'sign-in failed', { address: ADDRESS, way: 'code' }, NOW)
  noteEvent(log, 'sign-in failed', { address: ADDRESS, way: 'code' }, NOW)
  noteEvent(log, 'sign-in failed', { address: '203.0.113.78', way: 'code' }, NOW)
  const origins = events().map(({ origin }) => origin)
  expect(origins).toEqual([originOf(ADDRESS), originOf(ADDRESS), originOf('203.0.113.78')])
  expect(new Set(origins).size).toBe(2)
  expect(lines.join('')).not.toContain('203.0.113')
})

test('a burst fills no disk: what was not written is counted', () => {
  const log = openLines()
  for (let tries = 0; tries < 5_000; tries++) noteEvent(log, 'refused', { address: ADDRESS }, NOW)
  expect(lines).toHaveLength(20)
  for (let from = 0; from < 5_000; from++) noteEvent(log, 'limit reached', { address: `10.0.${from >> 8}.${from & 255}` }, NOW)
  expect(lines).toHaveLength(600)
  noteEvent(log, 'refused', { address: ADDRESS }, NOW + 60_000)
  expect(lines.slice(600).map((line) => JSON.parse(line))).toMatchObject([{ unwritten: 10_000 - 600 }, { event: 'refused' }])
})

/** A house whose log is read, asked from one address. */
async function asked() {
  stage = openStage({ now: Date.now(), log: openLines() })
  const { number } = await makeOpenLot(stage)
  lines.length = 0
  return { stage, number, visitor: stage.visitor([], ADDRESS) }
}

const happened = (): DoorEvent[] => events().map(({ event }) => event as DoorEvent)

test('who signs in, and who fails to, is written down without their email address', async () => {
  const { stage, visitor } = await asked()
  await visitor.people.askCode({ email: 'ada@workshop.example' })
  const code = codeFor(stage, 'ada@workshop.example')
  await expect(visitor.people.enterCode({ email: 'ada@workshop.example', code: wrongInsteadOf(code) })).rejects.toThrow()
  await visitor.people.enterCode({ email: 'ada@workshop.example', code })
  const { personId } = await stage.actorAt('ada@workshop.example')
  expect(events()).toEqual([
    { event: 'sign-in failed', origin: originOf(ADDRESS), way: 'code', code: 'bad-input' },
    { event: 'signed in', origin: originOf(ADDRESS), way: 'code', by: personId },
  ])
  for (const word of ['workshop.example', ADDRESS, code]) expect(lines.join('')).not.toContain(word)
})

test('whoever is turned away by what they are is written down, and a slip of the hand is not', async () => {
  const { stage, number, visitor } = await asked()
  const ada = await makeBidder(stage, 'Ada')
  await expect(ada.caller.outbox.list()).rejects.toThrow('done by the maker')
  await expect(visitor.bidding.myBids()).rejects.toThrow('Sign in first')
  await expect((await stage.unconfirmed('maker')).people.setRole({ email: 'cy@elsewhere.example', role: 'host' })).rejects.toThrow(
    'First confirm',
  )
  await expect(ada.bid(number, 'much')).rejects.toThrow()
  expect(events().map(({ event, path, code }) => [event, path, code])).toEqual([
    ['refused', 'outbox.list', 'not-yours-to-do'],
    ['refused', 'bidding.myBids', 'not-signed-in'],
    ['refused', 'people.setRole', 'confirm-first'],
  ])
})

test('a limit that is reached is written down', async () => {
  const { visitor } = await asked()
  for (let asking = 0; asking < 7; asking++) await visitor.people.askCode({ email: 'ada@workshop.example' }).catch(() => {})
  expect(events().map(({ event, path }) => [event, path])).toEqual([['limit reached', 'people.askCode']])
})

test('at the door too: files, data and what is followed', async () => {
  const { stage } = await asked()
  const door = await openStageDoor(stage)
  const { personId } = await stage.actor('bidder')
  const cookie = await door.sessionOf(personId)
  await fetch(`${door.url}/bench/record/changes.csv`)
  await fetch(`${door.url}/bench/record/changes.csv`, { headers: { cookie } })
  await fetch(`${door.url}/live?topics=unit:TERN-03`, { headers: { cookie } })
  await fetch(`${door.url}/files/photographs`, { method: 'POST', headers: { cookie, origin: stage.house.publicUrl }, body: 'x' })
  door.close()
  expect(happened()).toEqual(['refused', 'refused', 'refused', 'refused'])
  expect(events().map(({ path }) => path)).toEqual([
    '/bench/record/changes.csv',
    '/bench/record/changes.csv',
    '/live',
    '/files/photographs',
  ])
  expect(lines.join('')).not.toContain('127.0.0.1')
})
