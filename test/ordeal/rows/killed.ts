import { rmSync } from 'node:fs'
import { join } from 'node:path'
import { freeze, standingInCopy } from '../frozen'
import { type Furnished, furnish } from '../furnish'
import { judge } from '../record'
import { openedOrLie, type Served } from '../served'
import { between, Lie, pause, type Row, type Trial } from '../trial'
import { openWork, type Work } from '../work'

const BIDS_AT_ONCE = 12
const LONGEST_LIFE_MS = 4_000
const BETWEEN_POINTS_MS = 25

const PROMISE = 'nothing acknowledged is lost, and nothing stands there that was not asked'

export const killed: Row = {
  id: 'R1',
  what: 'killed (kill -9) under bids, readings, money, photographs',
  goal: '10,000 points, nothing acknowledged lost, nothing not asked',
  times: 10_000,
  unit: 'points',
  weight: 2,
  run,
}

/** What a house left at one moment of its life, and what had been acknowledged by then. */
interface Point {
  dir: string
  words: string
  entries: ReturnType<Work['record']['entries']>
}

async function run(trial: Trial): Promise<void> {
  const house = await furnish(join(trial.dir, 'house'), { lots: 3, bidders: 60, units: 2 })
  const work = openWork(trial, house)
  trial.begins()
  let kills = 0
  let points: Point[] = []
  for (let round = 1; trial.goesOn(); round++) {
    const served = await openedOrLie(trial, house.dataDir, `round ${round}`)
    await work.askAgain(served.hand)
    const faults = await work.check(served.hand)
    if (faults.length > 0) throw new Lie(PROMISE, words(faults), `round ${round}: what had no answer was asked again`)
    if (round > 1) trial.tried()
    points = await liveAndDie(trial, house, work, served, round)
    kills += 1
    for (const point of points) look(trial, point)
  }
  const answered = work.record.entries().filter(({ isAnswered }) => isAnswered).length
  if (answered === 0) trial.result.tried = 0
  trial.note(
    `${kills} times it was killed and opened again; the other points are what a kill would have left: the process stopped, its files copied, and the copy opened. ${answered} answers were acknowledged.`,
  )
}

async function liveAndDie(trial: Trial, { dataDir }: Furnished, work: Work, served: Served, round: number): Promise<Point[]> {
  const isOver = { now: false }
  const busy = people(work, served, isOver)
  const points: Point[] = []
  const until = performance.now() + between(trial.chance, 1, LONGEST_LIFE_MS)
  while (performance.now() < until) {
    await pause(Math.min(between(trial.chance, 1, 2 * BETWEEN_POINTS_MS), until - performance.now()))
    const dir = join(trial.dir, `point-${points.length}`)
    const entries = work.record.entries().map((entry) => ({ ...entry }))
    freeze(served.pid, dataDir, dir)
    points.push({ dir, words: `round ${round}, point ${points.length + 1}`, entries })
  }
  isOver.now = true
  await served.kill()
  await busy
  return points
}

function look(trial: Trial, { dir, words: step, entries }: Point): void {
  const known = entries.filter(({ key }) => /^(bid|gift)-/.test(key))
  const { standing, damage } = standingInCopy(dir)
  if (damage.length > 0) throw new Lie('whatever the moment, each history holds', damage.join('; '), step)
  const faults = judge(known, standing)
  if (faults.length > 0) throw new Lie(PROMISE, words(faults), step)
  rmSync(dir, { recursive: true, force: true })
  trial.tried()
}

/** Everybody at work until the house is gone. */
async function people(work: Work, { hand }: Served, isOver: { now: boolean }): Promise<void> {
  const over = async (one: () => Promise<unknown>) => {
    while (!isOver.now) if (!(await one())) await pause(5)
  }
  await Promise.all([
    ...Array.from({ length: BIDS_AT_ONCE }, () => over(() => work.bid(hand))),
    over(() => work.money(hand)),
    over(() => work.reading(hand)),
    over(() => work.photograph(hand)),
  ])
}

const words = (faults: readonly { kind: string; words: string }[]): string =>
  faults
    .slice(0, 5)
    .map((fault) => `${fault.kind}: ${fault.words}`)
    .join('; ')
