import { spawn } from 'node:child_process'
import { readFileSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { answersOf, callsOf, mayTrace } from '#test/make/system-calls'
import { furnish } from '../furnish'
import { serveHouse } from '../served'
import { Lie, pause, type Row, type Trial } from '../trial'
import { openWork } from '../work'

const BIDS_AT_A_TIME = 200

export const syncOrder: Row = {
  id: 'R3',
  what: 'order of write, sync and answer, as the system sees it (strace)',
  goal: '10,000 bids',
  times: 10_000,
  unit: 'bids',
  run,
}

async function run(trial: Trial): Promise<void> {
  if (!mayTrace()) {
    trial.leaveOut('strace is not here, or may not trace')
    return
  }
  const house = await furnish(join(trial.dir, 'house'), { lots: 10, bidders: 100 })
  const work = openWork(trial, house)
  const { hand, pid } = await serveHouse(trial, house.dataDir)
  trial.begins()
  for (let round = 1; trial.goesOn(); round++) {
    const file = join(trial.dir, `calls-${round}`)
    const wishes = ['-f', '-y', '-s', '40', '-e', 'trace=pwrite64,fsync,fdatasync,write,writev,sendto', '-o', file]
    const strace = spawn('strace', [...wishes, '-p', String(pid)], { stdio: ['ignore', 'ignore', 'pipe'] })
    const ended = new Promise((resolve) => strace.once('exit', resolve))
    // It says that it is there.
    await Promise.race([new Promise((resolve) => strace.stderr.once('data', resolve)), ended])
    await pause(100)
    let taken = 0
    let tried = 0
    // One after another: then nothing else is written between a bid and its answer.
    for (; tried < BIDS_AT_A_TIME && trial.secondsLeft() > 0; tried++) {
      const bid = await work.bid(hand)
      if (bid?.heard?.status === 200) taken += 1
    }
    strace.kill('SIGINT')
    await ended
    const answers = answersOf(callsOf(readFileSync(file, 'utf8')))
    rmSync(file)
    const step = `round ${round}, ${taken} bids taken`
    const early = answers.findIndex(({ isSynced }) => !isSynced)
    if (early >= 0) throw new Lie('an answer leaves after its rows were synced', `answer ${early + 1} of the trace left before`, step)
    if (answers.length !== taken) throw new Error(`the trace shows ${answers.length} answers, and ${taken} were heard`)
    trial.tried(taken)
  }
}
