import { MEANS, openTurnedHouse } from '#test/make/turned-bytes'
import { Lie, type Row, type Trial } from '../trial'

export const turnedBytes: Row = {
  id: 'R14',
  what: 'a byte turned in any row of a history, in the file, in the log',
  goal: '1,000, all found, said where',
  times: 1_000,
  unit: 'bytes',
  run,
}

async function run(trial: Trial): Promise<void> {
  const house = await openTurnedHouse(trial.dir, trial.chance)
  trial.atEnd(house.close)
  trial.begins()
  let turned = 0
  for (let round = 1; trial.goesOn(); round++) {
    const { means, words, isAltered, said } = house.turn(MEANS[round % MEANS.length] ?? 'the file')
    turned += 1
    // A byte of a free place, or of a page that a later one in the log replaces, belongs to no row.
    if (!isAltered) continue
    if (said === null)
      throw new Lie('whatever is altered is found', `nothing was said of a byte turned in ${means}`, `round ${round}: ${words}`)
    trial.tried()
  }
  trial.note(`${turned} bytes were turned; the others changed no row of a history in what is signed or repeated.`)
}
