import { cpSync, existsSync, mkdirSync, readdirSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { MINUTE } from '#kernel/instant'
import { isPart } from '#runtime/disk/manifest'
import { lotsFrame } from '#sale/bidding/frames.service'
import { mayTrace } from '#test/make/system-calls'
import { openStage } from '#test/stage'
import { standingInCopy } from '../frozen'
import { type Furnished, furnish } from '../furnish'
import { PUBLIC_URL } from '../hand'
import { judge } from '../record'
import { ROOT, serveHouse } from '../served'
import { FAULTS, type Fault, runTraced, type Step, stepsOf, traceServed } from '../steps'
import { Lie, pause, type Row, type Trial } from '../trial'
import { openWork } from '../work'

const CLOSES_IN_MS = 1_500

export const namedSteps: Row = {
  id: 'R2',
  what: 'each step of a commit, a close, a backup, a restore, a pack: killed, failed once, failed always',
  goal: 'all',
  times: Number.MAX_SAFE_INTEGER,
  unit: 'steps',
  weight: 1.5,
  run,
}

type At = { step: Step; fault: Fault } | null
/** One kind of work: done once with a fault at a step, or without one; it gives its trace, and tells when what stands there is not right. */
interface Deed {
  name: string
  live(at: At, step: string): Promise<string>
}

async function run(trial: Trial): Promise<void> {
  if (!mayTrace()) {
    trial.leaveOut('strace is not here, or may not trace')
    return
  }
  const house = await furnish(join(trial.dir, 'house'), { lots: 2, bidders: 40 })
  // What is packed is read back first, and the certificates under the lots of a test are signed by nobody.
  const bench = await furnish(join(trial.dir, 'bench'), { lots: 0, bidders: 4, units: 1 })
  const deeds = [commit(trial, house), ...commands(trial, bench), close(trial)]
  trial.begins()
  const left: { deed: Deed; step: Step; fault: Fault }[] = []
  for (const deed of deeds) {
    const steps = stepsOf(await deed.live(null, `${deed.name}, without a fault`), trial.dir)
    if (steps.length === 0) throw new Error(`nothing was seen of ${deed.name}`)
    left.push(...steps.flatMap((step) => FAULTS.map((fault) => ({ deed, step, fault }))))
    if (!trial.goesOn()) break
  }
  const all = left.length
  // By chance, so that a run in short has some of each.
  while (trial.goesOn() && left.length > 0) {
    const [{ deed, step, fault } = left[0] as (typeof left)[0]] = left.splice(Math.floor(trial.chance() * left.length), 1)
    await deed.live({ step, fault }, `${deed.name}: ${step.name} ${fault}`)
    trial.tried()
  }
  trial.note(`${all - left.length} of ${all}: each named step of five works, with each of three faults`)
}

/** Bids of a served house. */
function commit(trial: Trial, house: Furnished): Deed {
  let round = 0
  return {
    name: 'a commit',
    async live(at, step) {
      const dataDir = join(trial.dir, `commit-${++round}`)
      cpSync(house.dataDir, dataDir, { recursive: true })
      const work = openWork(trial, { ...house, dataDir })
      const served = await serveHouse(trial, dataDir)
      const end = await traceServed(join(trial.dir, 'calls'), served, at)
      let gone = false
      served.ended.then(() => {
        gone = true
      })
      for (let bids = 0; bids < 12 && !gone; bids++) if (!(await work.bid(served.hand))?.heard) break
      await work.money(served.hand)
      const trace = await end()
      await served.kill()
      const entries = work.record.entries()
      const { standing, damage } = standingInCopy(dataDir)
      const faults = judge(entries, standing)
      if (faults.length > 0) throw new Lie('nothing acknowledged is lost', faults.map(({ words }) => words).join('; '), step)
      if (damage.length > 0) throw new Lie('each history holds', damage.join('; '), step)
      rmSync(dataDir, { recursive: true, force: true })
      return trace
    },
  }
}

/** A closing of two lots, one of them with a bid. */
function close(trial: Trial): Deed {
  let round = 0
  return {
    name: 'a close',
    async live(at, step) {
      const dataDir = join(trial.dir, `close-${++round}`)
      // From its start on, by its own clock, so that the closing lies ahead of it however long a start takes.
      const house = await furnish(dataDir, {
        ...{ lots: 2, named: ['Ada', 'Ben'], ago: 30 * MINUTE, closesIn: () => 15_000 },
        inside: async (stage, [first]) => {
          const place = async (name: string, maximum: string) =>
            (await stage.as('bidder', name)).bidding.place({ lot: first?.number ?? 0, maximum, key: `before-the-close-of-${name}` })
          await place('Ada', '60')
          await place('Ben', '40')
        },
      })
      const served = await serveHouse(trial, dataDir)
      const closing = Math.min(...house.lots.map(({ closesAt }) => closesAt))
      await pause(closing - CLOSES_IN_MS - Date.now())
      const end = await traceServed(join(trial.dir, 'calls'), served, at)
      await pause(Math.max(0, closing - Date.now()) + 800)
      const trace = await end()
      await served.kill()
      const stage = openStage({ now: Date.now(), dir: dataDir, publicUrl: PUBLIC_URL })
      await stage.command(() => {})
      const moved = stage.facts().some(({ kind }) => kind === 'lot.outage')
      const ends = lotsFrame(stage.sight()).lots.map(({ state, hammerMinor }) => `${state} ${hammerMinor}`)
      stage.close()
      // A start that took long is a silence, after which the closings lie further off; nothing has closed then.
      if (!moved && ends.join() !== 'sold 4200,unsold null') throw new Lie('sold for 42.00, and unsold', ends.join(), step)
      return trace
    },
  }
}

/** The commands of a closed house: backup, restore and pack. */
function commands(trial: Trial, house: Furnished): Deed[] {
  const keep = join(ROOT, 'dist', 'keep.mjs')
  const copies = join(trial.dir, 'copies')
  let round = 0
  const keepHouse = (dataDir: string, words: readonly string[], at: At = null) =>
    runTraced(join(trial.dir, 'calls'), [keep, ...words], { DATA_DIR: dataDir, PUBLIC_URL }, at)
  const namesIn = (dir: string) => (existsSync(dir) ? readdirSync(dir) : [])
  const wholeOnes = (dir: string) => namesIn(dir).filter((name) => !isPart(name))

  const deed = (
    name: string,
    words: (dir: string) => string[],
    look: (dir: string, code: number | null, step: string) => unknown = () => {},
  ): Deed => ({
    name,
    async live(at, step) {
      // What is put back is a copy of this very house, made once.
      if (wholeOnes(copies).length === 0) await keepHouse(house.dataDir, ['backup', copies])
      const dir = join(trial.dir, `command-${++round}`)
      mkdirSync(dir)
      cpSync(house.dataDir, join(dir, 'house'), { recursive: true })
      const { trace, code, said } = await keepHouse(join(dir, 'house'), words(dir), at)
      if (at === null && code !== 0) throw new Lie(`${name} is made`, said, step)
      if (/\n\s+at /.test(said)) throw new Lie('whoever runs it is told in words', said.slice(0, 400), step)
      await look(dir, code, step)
      // Opened again, which finishes what was begun: the house that stood there, or the copy of it that took its place.
      const { damage } = standingInCopy(join(dir, 'house'))
      if (damage.length > 0) throw new Lie('a whole house stands there', damage.join('; '), step)
      rmSync(dir, { recursive: true, force: true })
      return trace
    },
  })
  return [
    deed(
      'a backup',
      (dir) => ['backup', join(dir, 'backups')],
      async (dir, code, step) => {
        const backups = join(dir, 'backups')
        const whole = wholeOnes(backups)
        if (code === 0 && whole.length === 0) throw new Lie('a backup that says so was made', 'there is none', step)
        for (const name of whole) {
          const { code: restored, said } = await keepHouse(join(dir, 'elsewhere'), ['restore', join(backups, name)])
          if (restored !== 0) throw new Lie('a copy that has its name is whole', said, step)
        }
        const parts = namesIn(backups).filter(isPart)
        for (const name of parts) {
          const { code: restored, said } = await keepHouse(join(dir, 'of-a-part'), ['restore', join(backups, name)])
          if (restored === 0 || !said.includes('was not finished'))
            throw new Lie('a copy that was not finished is not taken for one', said, step)
        }
        if (parts.length === 0) return
        const { code: again, said } = await keepHouse(join(dir, 'house'), ['backup', backups])
        if (again !== 0) throw new Lie('after a backup that was killed, one is made', said, step)
        const left = namesIn(backups).filter(isPart)
        if (left.length > 0) throw new Lie('the next backup sweeps what a killed one left', left.join(', '), step)
      },
    ),
    deed('a restore', () => ['restore', join(copies, wholeOnes(copies)[0] ?? '')]),
    deed(
      'a pack',
      (dir) => ['pack', join(dir, 'pack.zip')],
      async (dir, code, step) => {
        const pack = join(dir, 'pack.zip')
        const isThere = existsSync(pack)
        // One that was killed may have made it, and not come to say so.
        if (isThere ? code !== 0 && code !== null : code === 0)
          throw new Lie(
            'a pack stands there when it says so, and not otherwise',
            `ended with ${code}, and it ${isThere ? 'stands' : 'does not stand'} there`,
            step,
          )
        if (!isThere) return
        const { code: read, said } = await keepHouse(join(dir, 'of-the-pack'), ['unpack', pack])
        if (read !== 0) throw new Lie('a pack that has its name is whole', said, step)
      },
    ),
  ]
}
