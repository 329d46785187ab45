import { join } from 'node:path'
import Database from 'better-sqlite3'
import { furnish } from '../furnish'
import { wordsOf } from '../hand'
import { serveHouse } from '../served'
import { between, Lie, pause, pick, type Row, type Trial } from '../trial'
import { openWork } from '../work'

const BIDS = 6
/** The house waits five seconds for another to let go. */
const ONE_LONG_IN = 40
const LONG_MS = 5_400

export const locked: Row = {
  id: 'R11',
  what: 'the file locked by another program',
  goal: '1,000 times, no half effect',
  times: 1_000,
  unit: 'times',
  run,
}

async function run(trial: Trial): Promise<void> {
  const { chance } = trial
  const house = await furnish(join(trial.dir, 'house'), { lots: 8, bidders: 160, units: 1 })
  const work = openWork(trial, house)
  const { hand } = await serveHouse(trial, house.dataDir)
  const other = new Database(join(house.dataDir, 'tagstrip.db'), { timeout: 2_000 })
  trial.atEnd(() => other.close())
  const said = new Map<string, number>()
  trial.begins()
  for (let round = 1; trial.goesOn(); round++) {
    const how = pick(chance, ['BEGIN IMMEDIATE', 'BEGIN EXCLUSIVE', 'BEGIN'])
    const isLong = chance() < 1 / ONE_LONG_IN && trial.secondsLeft() > 15
    const step = `round ${round}, ${how} for ${isLong ? 'longer than the house waits' : 'a moment'}`
    other.exec(how)
    // A reader keeps the log from being taken into the file; a writer keeps everybody from writing.
    other.prepare('SELECT count(*) FROM fact').get()
    const asked = [...Array.from({ length: BIDS }, () => work.bid(hand)), work.money(hand), work.reading(hand)]
    await pause(isLong ? LONG_MS : between(chance, 0, 60))
    other.exec('ROLLBACK')
    for (const one of await Promise.all(asked)) {
      if (one === null || typeof one === 'string') continue
      if (!one.heard) throw new Lie('whoever asks is answered', 'no answer', step)
      if (one.heard.status >= 500) said.set(wordsOf(one.heard).replace(/[0-9a-f]{8}/, '…'), (said.get(wordsOf(one.heard)) ?? 0) + 1)
    }
    trial.tried()
    if (round % 25 !== 0 && !isLong && trial.goesOn()) continue
    await work.askAgain(hand)
    const faults = await work.check(hand)
    if (faults.length > 0)
      throw new Lie(
        'no half effect',
        faults
          .slice(0, 3)
          .map(({ words }) => words)
          .join('; '),
        step,
      )
  }
  for (const [words, count] of said) trial.note(`${count} times, after five seconds of waiting, it was said: ${words}`)
}
