import { join } from 'node:path'
import { recordedLines } from '#test/db/earlier-schemas'
import { buildStepper, type EarlierHouse, layOutEarlier } from '#test/make/killed-steps'
import { ROOT } from '../served'
import { Lie, pick, type Row, type Trial } from '../trial'

const KILLS_EACH = 100

export const earlierSchemas: Row = {
  id: 'R13',
  what: "every earlier schema opened by today's program, which is killed meanwhile",
  goal: 'all, killed 100 times each, copy made first',
  times: recordedLines().length * (1 + KILLS_EACH),
  unit: 'openings',
  run,
}

async function run(trial: Trial): Promise<void> {
  const lines = recordedLines()
  const program = await buildStepper(join(ROOT, 'dist'))
  const orLie = (words: string | null, step: string) => {
    if (words !== null) throw new Lie('the old schema or the new one stands there, whole, and the copy was made first', words, step)
    trial.tried()
  }
  trial.begins()
  const houses: EarlierHouse[] = []
  let kills = 0
  for (let turn = 0; trial.goesOn(); turn++) {
    const at = turn % lines.length
    const named = `the schema in line ${at + 1} of the record`
    const isNew = houses[at] === undefined
    const house = houses[at] ?? layOutEarlier(join(trial.dir, `schema-${at}`), program, lines[at] ?? '')
    houses[at] = house
    if (isNew) orLie(await house.opened(), named)
    // Within a step that is known by name, and at any other moment.
    if (trial.chance() < 0.5 && house.missing.length > 0) {
      const step = pick(trial.chance, house.missing)
      orLie(await house.killedIn(step), `${named}: killed in ${step}`)
    } else {
      const share = trial.chance()
      orLie(await house.killedAfter(share), `${named}: killed after ${Math.round(share * 100)} % of its time`)
    }
    kills += 1
  }
  trial.note(`${houses.length} of ${lines.length} schemas were opened; ${kills} times the program was killed meanwhile.`)
}
