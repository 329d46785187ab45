import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { DAY, HOUR, MINUTE, SECOND } from '#kernel/instant'
import { noteAlive } from '#runtime/queue/alive'
import { type Clockworks, openMachine } from '#runtime/queue/machine'
import { wallClock } from '#runtime/queue/stamp'
import type { LotFrame } from '#sale/bidding/bidding.contract'
import { lotFrame } from '#sale/bidding/frames.service'
import { readHistory } from '#sale/history/history.service'
import { makeOpenLot } from '#test/make/lot'
import { FAKE_TIME } from '#test/make/neighbour'
import { openStage } from '#test/stage'
import { furnish } from '../furnish'
import { dataOf } from '../hand'
import { serveHouse } from '../served'
import { between, Lie, pause, pick, type Row, type Trial } from '../trial'
import { someAddress } from '../work'

const LOTS = 10
/** A sweep and a busy machine may take so long after a closing. */
const SOON_MS = 3_000
const SHORT_SILENCE_MS = 5_000

export const clocks: Row = {
  id: 'R9',
  what: 'the clock set forward and back, over a change to summer time, asleep over a closing',
  goal: "10,000 closings, none early, none late without the rule's shift",
  times: 10_000,
  unit: 'closings',
  run,
}

async function run(trial: Trial): Promise<void> {
  let served = 0
  if (FAKE_TIME) {
    const until = trial.secondsLeft() / 2
    for (let round = 1; trial.goesOn() && trial.secondsLeft() > until; round++) await serveWithClock(trial, round, FAKE_TIME)
    served = trial.result.tried
  } else trial.note('libfaketime is not here: the clock of a served house was not set')
  const given = await withoutProcess(trial)
  trial.note(
    `${served} closings of a served house whose clock was set or whose process was stopped, ${given} of a house on clockworks that are set`,
  )
}

/** The summer time of Europe began at 01:00 UTC of this day. */
const TO_SUMMER = Date.parse('2027-03-28T01:00:00Z')

/** The house as it is served, under a wall clock that is set while it is open; its monotonic clock goes on. */
async function serveWithClock(trial: Trial, round: number, library: string): Promise<void> {
  const { chance } = trial
  const isSummer = round % 4 === 0
  const began = Date.now()
  // Its last minute of winter, by the house's own clock, is now.
  const offset = isSummer ? TO_SUMMER - 12 * SECOND - began : 0
  const file = join(trial.dir, 'wall')
  const setWall = (ms: number) => writeFileSync(file, `${ms < 0 ? '-' : '+'}${Math.abs(ms / 1000)}\n`)
  setWall(offset)
  const house = await furnish(join(trial.dir, `house-${round}`), {
    lots: LOTS,
    bidders: 0,
    now: began + offset,
    closesIn: () => between(chance, 12 * SECOND, 17 * SECOND),
  })
  const served = await serveHouse(trial, house.dataDir, {
    env: {
      LD_PRELOAD: library,
      FAKETIME_TIMESTAMP_FILE: file,
      FAKETIME_NO_CACHE: '1',
      FAKETIME_DONT_FAKE_MONOTONIC: '1',
      TZ: 'Europe/London',
    },
  })
  const now = () => Date.now() + offset
  const { hand } = served
  const frameOf = async (number: number) => {
    const frame = dataOf<LotFrame>(await hand.query('bidding.frame', { lot: number }, { from: someAddress(chance) }))
    if (!frame) throw new Lie('a page that is asked for is answered', 'no answer', `round ${round}, lot ${number}`)
    return frame
  }
  // A busy machine may take more than five seconds to open it: that is a silence, and the closings stand where the rule has put them.
  const lots = await Promise.all(house.lots.map(async ({ number }) => ({ number, closesAt: (await frameOf(number)).closesAt ?? 0 })))
  const what = isSummer ? 'summer time begins' : pick(chance, ['forward', 'back', 'asleep', 'forward and back'])
  const step = `round ${round}, ${what}`
  const first = Math.min(...lots.map(({ closesAt }) => closesAt))
  await pause(first - now() + between(chance, -3_000, 3_000))
  if (what.includes('forward')) setWall(offset + pick(chance, [3 * SECOND, MINUTE, HOUR, DAY]))
  if (what === 'back') setWall(offset - pick(chance, [3 * SECOND, MINUTE, HOUR, DAY]))
  let slept = 0
  if (what === 'asleep') {
    served.child.kill('SIGSTOP')
    slept = between(chance, 3_000, 8_000)
    await pause(slept)
    served.child.kill('SIGCONT')
  }
  const waiting = new Set(lots)
  while (waiting.size > 0) {
    for (const lot of waiting) {
      const frame = await frameOf(lot.number)
      const left = lot.closesAt - now()
      const isOver = frame.state !== 'open'
      if (isOver && left > 50)
        throw new Lie('no lot closes early', `lot ${lot.number} is ${frame.state} ${left} ms before its closing`, step)
      if (isOver && frame.endedAt !== lot.closesAt)
        throw new Lie('a lot ends at its closing', `lot ${lot.number} ended ${(frame.endedAt ?? 0) - lot.closesAt} ms from it`, step)
      const moved = (frame.closesAt ?? 0) - lot.closesAt
      if (moved !== 0 && slept <= SHORT_SILENCE_MS - SECOND)
        throw new Lie('a clock that is set moves no closing', `the closing of lot ${lot.number} moved by ${moved} ms`, step)
      // A silence that was longer than five seconds is given back; what is moved by the rule has kept it.
      if (moved > 0 && moved < slept - 2 * SECOND)
        throw new Lie('a closing moves by no less than the silence', `lot ${lot.number} by ${moved} ms for ${slept} ms asleep`, step)
      if (!isOver && moved === 0 && -left > SOON_MS + slept)
        throw new Lie('no lot closes late', `lot ${lot.number} is open ${-left} ms after its closing`, step)
      if (isOver || moved > 0) {
        waiting.delete(lot)
        trial.tried()
      }
    }
    if (what === 'forward and back') setWall(offset + between(chance, -60, 60) * SECOND)
    await pause(100)
  }
  await served.kill()
}

/** A house within the process, on clockworks whose wall is set and that sleep, at any moment of many closings. */
async function withoutProcess(trial: Trial): Promise<number> {
  const { chance } = trial
  const before = trial.result.tried
  const start = Date.parse('2027-03-28T00:00:00Z')
  let passed = 0
  let asleep = 0
  let setBy = 0
  const works: Clockworks = {
    wall: () => start + passed + setBy,
    monotonic: () => passed - asleep,
    upSeconds: () => Math.floor(passed / 1000),
    start: () => 'this start of the machine',
  }
  const machine = openMachine(works)
  const clock = wallClock(machine, works.wall)
  const stage = openStage({ now: clock.now(), dir: join(trial.dir, 'stage'), machine })
  trial.atEnd(() => stage.close())
  await stage.actor('maker')
  /** The anchor follows the wall by a twentieth at most of what passes in ten minutes. */
  const drifts = () => Math.abs(clock.now() - (start + passed))
  const second = async (ms: number) => {
    passed += ms
    stage.clock.set(Math.max(stage.clock.now(), clock.now()))
    await stage.house.queue.beat((turn) => noteAlive(turn, machine))
  }
  for (let round = 1; trial.goesOn(); round++) {
    const { number, closesAt } = await makeOpenLot(stage, { tag: `U-${round}`, closesIn: between(chance, 3_000, 130_000) })
    const closesWhenPassed = passed + (closesAt - stage.clock.now())
    const driftBefore = drifts()
    let silences = 0
    const step = () => `round ${round} of the clockworks, ${Math.round((closesWhenPassed - passed) / 1000)} s before its closing`
    for (;;) {
      const what = between(chance, 1, 12)
      if (what === 1) setBy = pick(chance, [-DAY, -HOUR, -MINUTE, -3 * SECOND, 0, 3 * SECOND, MINUTE, HOUR, DAY])
      if (what === 2) {
        const ms = between(chance, 1_000, 30_000)
        asleep += ms
        if (ms > SHORT_SILENCE_MS - SECOND) silences += 1
        await second(ms)
      } else await second(between(chance, 200, 4_900))
      const frame = lotFrame(stage.sight(), number)
      const isMoved = readHistory(stage.sight(), number).leaves.some(({ kind }) => kind === 'outage')
      // The uptime, which tells how long it slept, is known to a second.
      const apart = Math.abs(drifts() - driftBefore) + 4 * SECOND
      if (isMoved && silences === 0) throw new Lie('only a silence moves a closing', JSON.stringify(frame), step())
      if (frame?.state !== 'open') {
        if (frame?.endedAt !== closesAt && !isMoved) throw new Lie('a lot ends at its closing', JSON.stringify(frame), step())
        if (passed < closesWhenPassed - apart) throw new Lie('no lot closes early', JSON.stringify(frame), step())
      }
      if (frame?.state === 'open' && !isMoved && passed > closesWhenPassed + apart)
        throw new Lie('no lot closes late', JSON.stringify(frame), step())
      if (frame?.state !== 'open' || isMoved) break
    }
    trial.tried()
  }
  return trial.result.tried - before
}
