import { createHash } from 'node:crypto'
import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, test } from 'vitest'
import type { Note } from '#air/rehearsal/rehearsal.contract'
import { campaign } from '#db/schema/index'
import { openHouse } from '#house/open/house'
import { beginsAt, copyForRehearsal } from '#house/rehearsal/copy'
import { openCrowd } from '#house/rehearsal/crowd'
import { openFastClock } from '#house/rehearsal/fast-clock'
import { actorOf, findCrowd, prepareCopy } from '#house/rehearsal/prepare'
import { openTroubles } from '#house/rehearsal/troubles'
import { HOUR, MINUTE } from '#kernel/instant'
import { listStaff } from '#people/people/people.service'
import { isConfirmed } from '#runtime/call/session'
import { openLog } from '#runtime/settings/log'
import { listLots } from '#sale/lots/lots.service'
import { civilParts } from '#sale/programme/civil-time.rules'
import { makeBidder, makeOpenLot, makeTestedUnit } from '#test/make/lot'
import { NOON, openStage, type Stage } from '#test/stage'

let stage: Stage
let into: string
beforeEach(async () => {
  stage = openStage()
  into = mkdtempSync(join(tmpdir(), 'tagstrip-rehearsal-'))
  await makeOpenLot(stage, { closesIn: HOUR })
  const host = await stage.as('host')
  const zone = (await host.programme.day())?.zone ?? 'UTC'
  await host.programme.plan({ kind: 'closing', lot: 1, ...civilParts(NOON + HOUR, zone), announce: true })
  await host.programme.plan({ kind: 'guest', title: 'Ines Abreu', ...civilParts(NOON + 30 * MINUTE, zone), minutes: '20', announce: true })
  await (await makeBidder(stage, 'Ada')).bid(1, '30')
})
afterEach(() => {
  stage.close()
  rmSync(into, { recursive: true, force: true })
})

const filesOf = (dir: string, below = ''): string[] =>
  readdirSync(join(dir, below)).flatMap((name) => {
    const path = join(below, name)
    return statSync(join(dir, path)).isDirectory() ? filesOf(dir, path) : [path]
  })

/** Every file of a folder by its hash; the shared-memory file is SQLite's own bookkeeping of who reads. */
const printOf = (dir: string) =>
  Object.fromEntries(
    filesOf(dir)
      .filter((path) => !path.endsWith('-shm'))
      .map((path) => [
        path,
        createHash('sha256')
          .update(readFileSync(join(dir, path)))
          .digest('hex'),
      ]),
  )

/** A house on the copy, at the same hour. */
const openCopy = async () => {
  await copyForRehearsal(stage.dir, into, NOON)
  const notes: Note[] = []
  const house = openHouse({
    dataDir: into,
    migrationsDir: join(import.meta.dirname, '..', '..', '..', 'db', 'migrations'),
    publicUrl: 'https://rehearsal.example',
    isDemo: false,
    clock: openFastClock(NOON, 1, () => 0),
    log: openLog('silent'),
    isRehearsal: true,
  })
  return { house, notes, note: (one: Note) => void notes.push(one) }
}

const settled = () => new Promise((resolve) => setTimeout(resolve, 200))

test('a day that is played on a copy changes no byte of the house, its mail stays in the copy', async () => {
  await stage.as('maker')
  const before = printOf(stage.dir)
  const letters = stage.letters().length
  const { house, notes, note } = await openCopy()
  await prepareCopy(house)
  openCrowd(house, findCrowd(house), note).burst(30)
  await settled()
  const host = actorOf(listStaff(house.sight()).find(({ role }) => role === 'maker'))
  const troubles = openTroubles({ house, host, crowd: openCrowd(house, [], note), news: () => {}, note, tell: () => {} })
  await troubles.cause('guest-late', 'itself')
  await troubles.cause('stream-lost', 'itself')
  expect(notes.some(({ kind }) => kind === 'bid')).toBe(true)
  house.close()
  expect(printOf(stage.dir)).toEqual(before)
  expect(stage.letters().length).toBe(letters)
})

test('whoever stepped into a rehearsal need not prove again who they are: it has no mail to send a code by', async () => {
  const { personId } = await stage.actor('maker')
  const { house } = await openCopy()
  const cookies = (await house.signIn.openSession(personId, 'Firefox on Linux')).map((cookie) => cookie.split(';')[0]).join('; ')
  house.db.run('UPDATE session SET created_at = created_at - 3600000')
  expect(isConfirmed(house.signIn.sessionOf(cookies)?.session ?? null, Date.now())).toBe(true)
  house.close()
})

test('the copy signs with a key of its own, and what the house signed still verifies there', async () => {
  const { house } = await openCopy()
  const real = stage.house.keys.jwks().keys.map(({ kid }) => kid)
  expect(real).not.toContain(house.keys.kid)
  expect(house.keys.jwks().keys.map(({ kid }) => kid)).toEqual([...real, house.keys.kid])
  expect(readdirSync(join(into, 'keys')).filter((name) => name.endsWith('.pem'))).toHaveLength(1)
  house.close()
})

test('every paper of the copy carries the word, and its lots take bids by their rules', async () => {
  const { house, notes, note } = await openCopy()
  await prepareCopy(house)
  expect(house.db.query.campaign.findFirst().sync()?.name).toMatch(/^Rehearsal: /)
  openCrowd(house, findCrowd(house), note).burst(200)
  await settled()
  // Some press a button that is no longer true, and are told so.
  expect(notes.some((one) => one.kind === 'refused' && one.words.includes('at least'))).toBe(true)
  house.close()
})

test('a stream that is lost holds all clocks, and lets them go on when it is back', async () => {
  const { house, note } = await openCopy()
  await prepareCopy(house)
  const host = actorOf(listStaff(house.sight()).find(({ role }) => role === 'maker'))
  const news: string[] = []
  const troubles = openTroubles({
    house,
    host,
    crowd: openCrowd(house, [], note),
    news: (words) => void news.push(words),
    note,
    tell: () => {},
  })
  await troubles.cause('stream-lost', 'itself')
  await expect(troubles.cause('stream-lost', 'itself')).rejects.toThrow('already on hold')
  troubles.step(NOON + 3 * MINUTE)
  expect(news).toEqual(['The stream is lost.'])
  troubles.step(NOON + 5 * MINUTE)
  expect(news).toEqual(['The stream is lost.', 'The stream is back.'])
  house.close()
})

test('left to the host, a late guest is only told', async () => {
  const { house, note } = await openCopy()
  const before = house.db.query.programmeItem.findMany().sync()
  const host = actorOf(listStaff(house.sight()).find(({ role }) => role === 'maker'))
  const news: string[] = []
  const troubles = openTroubles({
    house,
    host,
    crowd: openCrowd(house, [], note),
    news: (words) => void news.push(words),
    note,
    tell: () => {},
  })
  await troubles.cause('guest-late', 'host')
  expect(news).toEqual(['Ines Abreu is 10 minutes late.'])
  expect(house.db.query.programmeItem.findMany().sync()).toEqual(before)
  house.close()
})

test('it begins five minutes before the stream opens, or now when it is on, and not at all when nothing is to come', async () => {
  stage.db
    .update(campaign)
    .set({ streamOpensAt: NOON + 30 * MINUTE })
    .run()
  await copyForRehearsal(stage.dir, into, NOON)
  expect(beginsAt(into, NOON)).toBe(NOON + 25 * MINUTE)
  expect(beginsAt(into, NOON + 40 * MINUTE)).toBe(NOON + 40 * MINUTE)
  expect(beginsAt(into, NOON + 2 * HOUR)).toBeNull()
})

test('it never begins before what the copy knows of already', async () => {
  stage.db
    .update(campaign)
    .set({ streamOpensAt: NOON - 3 * HOUR })
    .run()
  await copyForRehearsal(stage.dir, into, NOON)
  expect(beginsAt(into, NOON - HOUR)).toBe(NOON)
})

test('a fast clock does not jump when its pace is changed', () => {
  let wall = 0
  const clock = openFastClock(NOON, 60, () => wall)
  wall = 1000
  expect(clock.now()).toBe(NOON + MINUTE)
  clock.setPace(1)
  expect(clock.now()).toBe(NOON + MINUTE)
  wall = 2000
  expect(clock.now()).toBe(NOON + MINUTE + 1000)
})

test('a fast clock stands until it is let go, and waits for whoever plays the day', () => {
  let wall = 0
  const clock = openFastClock(NOON, 0, () => wall, 250)
  wall = 60_000
  expect(clock.now()).toBe(NOON)
  clock.setPace(300)
  wall += 100
  expect(clock.now()).toBe(NOON + 30_000)
  // The machine was busy for a whole minute of the wall: so little of the day passed that no cue of a minute was passed over.
  wall += 60_000
  expect(clock.now()).toBe(NOON + 45_000)
  clock.step()
  wall += 100
  expect(clock.now()).toBe(NOON + 75_000)
  // Slowly played, a quarter of a second of the wall is all that it goes on alone.
  clock.setPace(1)
  wall += 60_000
  expect(clock.now()).toBe(NOON + 75_250)
})

test('a lot that is a draft is rehearsed with what it lacks invented, and one without a time is named', async () => {
  const maker = await stage.as('maker')
  for (const tag of ['LARK-02', 'WREN-03']) {
    await makeTestedUnit(stage, { tag, isCertified: false })
    await maker.lots.start({ unit: tag })
  }
  const zone = (await maker.programme.day())?.zone ?? 'UTC'
  await maker.programme.plan({ kind: 'closing', lot: 2, ...civilParts(NOON + 90 * MINUTE, zone) })
  const { house } = await openCopy()
  const told = await prepareCopy(house)
  expect(told).toEqual([
    expect.stringMatching(/^Lot 2 took part with what it lacks invented: certificate, story, photograph, opening/),
    'Lot 3 took no part: it has no time in the day.',
  ])
  expect(listLots(house.sight()).map(({ number, state }) => [number, state])).toEqual([
    [1, 'open'],
    [2, 'open'],
    [3, 'draft'],
  ])
  house.close()
  // In the house itself it is as it was.
  expect((await maker.lots.all()).find(({ number }) => number === 2)?.state).toBe('draft')
})
