import { mkdtempSync, readdirSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, expect, test } from 'vitest'
import { drillGrown } from '#house/drill/drill-grown'
import { bringsTheHouseUp, drillWords } from '#house/drill/drill-words.rules'
import { openGrowing } from '#house/drill/grown-house'
import { HOUR } from '#kernel/instant'
import { readConfig } from '#runtime/settings/config'
import { isKeptRight } from '#sale/bids/kept-right.service'
import { checkHistory } from '#sale/history/check-history.rules'
import { readHistory } from '#sale/history/history.service'
import { makeOpenLot, makePreparedLot, makeTestedUnit } from '#test/make/lot'
import { MIGRATIONS } from '#test/make/packed'
import { openStage, type Stage } from '#test/stage'

// What `npm run drill -- --bids 1000000` does, in small.
let stage: Stage | null = null
let dir = ''
afterEach(() => {
  stage?.close()
  stage = null
  if (dir !== '') rmSync(dir, { recursive: true, force: true })
})

test('a house is grown by bids that any checker takes: each goes through the queue and the rules, and nobody bids too often', async () => {
  stage = openStage()
  const { number } = await makeOpenLot(stage)
  const growing = await openGrowing(stage.house, 30)
  expect(growing).toMatchObject({ lots: 1, bidders: 30 })
  await growing.bid(90)
  const history = readHistory(stage.sight(), number)
  expect(history.leaves.filter(({ kind }) => kind === 'bid')).toHaveLength(90)
  expect(new Set(history.leaves.flatMap((leaf) => (leaf.kind === 'bid' && leaf.why ? [leaf.why] : []))).size).toBeGreaterThan(1)
  expect(checkHistory(JSON.parse(JSON.stringify(history))).filter(({ isSound }) => !isSound)).toEqual([])
  expect(isKeptRight(stage.sight(), number)).toBe(true)
  // Those who are there bid again; nobody is invented twice.
  expect((await openGrowing(stage.house, 30)).bidders).toBe(30)
}, 60_000)

test('a house in which nobody can bid says so', async () => {
  stage = openStage()
  await expect(openGrowing(stage.house, 30)).rejects.toThrow('No lot of this house can open')
})

test('a copy of what has grown is kept while bids go on, and brings the house up; the house itself is only read', async () => {
  dir = mkdtempSync(join(tmpdir(), 'tagstrip-grown-'))
  const house = openStage({ now: Date.now(), dir })
  const { number } = await makePreparedLot(house, { closesIn: 3 * HOUR })
  // Another has not opened yet, and so has no history that could be whole or not.
  await makeTestedUnit(house, { tag: 'TERN-04' })
  await (await house.as('maker')).lots.start({ unit: 'TERN-04' })
  house.house.close()
  // SQLite makes two files of its own beside a database that it reads.
  const filesOf = () =>
    readdirSync(dir)
      .filter((name) => !/-(wal|shm)$/.test(name))
      .sort()
  const before = filesOf()
  const said: string[] = []
  const { copyMeans: means } = readConfig({ NODE_ENV: 'test' })
  const report = await drillGrown({
    ...{ dataDir: dir, migrationsDir: MIGRATIONS, publicUrl: 'https://drill.example', bids: 120, pairs: 60, means },
    say: (words) => said.push(words),
  })
  const { drilled } = report
  expect(bringsTheHouseUp(drilled), drillWords(drilled)).toBe(true)
  expect(report).toMatchObject({ bids: 120, lots: 1, bidders: 60 })
  expect(drilled).toMatchObject({ damages: [], compared: { differences: [] }, serving: { is: 'serving' } })
  expect(said[0]).toMatch(/^120 bids taken on 1 lots by 60 invented bidders/)
  expect(readdirSync(tmpdir()).filter((name) => name.startsWith(`tagstrip-drill-${process.pid}-`))).toEqual([])
  expect(filesOf()).toEqual(before)
  const again = openStage({ now: Date.now() + HOUR, dir })
  const row = await (await again.as('maker')).lots.all()
  expect(row.find((lot) => lot.number === number)?.state).toBe('draft')
  again.house.close()
}, 300_000)
