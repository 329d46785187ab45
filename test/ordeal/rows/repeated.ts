import { join } from 'node:path'
import { furnish } from '../furnish'
import { serveHouse } from '../served'
import { between, Lie, pick, type Row, type Trial } from '../trial'
import { openWork } from '../work'

const AT_ONCE = 16
const REPEATS_OF_ONE = 12

export const repeated: Row = {
  id: 'R7',
  what: 'every command repeated with the same key, one after another and at once',
  goal: '100,000 repeats, one effect each',
  times: 100_000,
  unit: 'repeats',
  run,
}

async function run(trial: Trial): Promise<void> {
  const house = await furnish(join(trial.dir, 'house'), { lots: 6, bidders: 120, units: 3 })
  const work = openWork(trial, house)
  const { hand } = await serveHouse(trial, house.dataDir)
  const kinds = [
    () => work.bid(hand).then((bid) => bid?.key),
    () => work.money(hand),
    () => work.reading(hand),
    () => work.photograph(hand),
  ]
  trial.begins()
  for (let round = 1; trial.goesOn(); round++) {
    const keys = (
      await Promise.all(Array.from({ length: AT_ONCE }, (_, n) => (kinds[n % 8 < 5 ? 0 : (n % 8) - 4] ?? kinds[0])?.()))
    ).filter((key) => key !== undefined)
    const first = new Map(keys.map((key) => [key, work.record.entries().find((entry) => entry.key === key)?.isAnswered ?? false]))
    const repeats = Array.from({ length: keys.length * between(trial.chance, 1, REPEATS_OF_ONE) }, () => pick(trial.chance, keys))
    const heard = await Promise.all(repeats.map(async (key) => ({ key, heard: await work.repeat(key, hand) })))
    for (const { key, heard: answer } of heard) {
      if (first.get(key) && !(answer && answer.status < 300) && answer?.status !== 429)
        throw new Lie(
          'a command sent again has the same answer',
          `${key}: ${answer?.status} ${answer?.text.slice(0, 300)}`,
          `round ${round}`,
        )
    }
    // What was refused at first and taken at the repeat was taken once all the same.
    await work.askAgain(hand)
    trial.tried(repeats.length)
    if (round % 20 === 0 || !trial.goesOn()) {
      const faults = await work.check(hand)
      if (faults.length > 0)
        throw new Lie(
          'however often it is sent, one effect',
          faults
            .slice(0, 5)
            .map(({ words }) => words)
            .join('; '),
          `round ${round}`,
        )
    }
  }
}
