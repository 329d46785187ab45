import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync, renameSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { DAY, HOUR } from '#kernel/instant'
import { closeDueLots } from '#sale/closings/close-due.service'
import { tellStory } from '#seed/story'
import { NOON, openStage, type Stage } from '#test/stage'
import { TOLD } from './told-folder'

const AS_DEMO = { isDemo: true, publicUrl: 'https://bench.example' }
const LONGEST_TELLING_MS = 60_000

/** The demo's whole story, told as of noon: designs, gifts, a bench's work, certificates, lots and their bids. */
export const openToldHouse = (): Promise<Stage> => copyOf('told', tellHouse)

/** The same a day later: every lot has ended, what was sold is partly paid, and the cause has had some of it. */
export const openEndedHouse = (): Promise<Stage> => copyOf('ended', endHouse)

/** A house on a copy of what is made at the first asking: telling takes longer than most tests. */
async function copyOf(name: string, make: () => Promise<Stage>): Promise<Stage> {
  const kept = join(TOLD, name)
  if (isFirst(kept)) await keep(kept, await make())
  for (let waited = 0; !existsSync(kept); waited += 100) {
    if (waited > LONGEST_TELLING_MS) return make()
    await new Promise((resolve) => setTimeout(resolve, 100))
  }
  const dir = mkdtempSync(join(tmpdir(), 'tagstrip-'))
  cpSync(kept, dir, { recursive: true })
  return openStage({ ...AS_DEMO, now: Number(readFileSync(`${kept}.at`, 'utf8')), dir })
}

/** Whether nobody else has begun on it. */
function isFirst(kept: string): boolean {
  mkdirSync(TOLD, { recursive: true })
  try {
    mkdirSync(`${kept}.being-made`)
    return true
  } catch {
    return false
  }
}

async function keep(kept: string, made: Stage): Promise<void> {
  writeFileSync(`${kept}.at`, String(made.clock.now()))
  made.house.close()
  cpSync(made.dir, `${kept}.part`, { recursive: true })
  made.close()
  renameSync(`${kept}.part`, kept)
}

/** Tells it here and now, for a test that listens to the telling. */
export async function tellHouse(): Promise<Stage> {
  const stage = openStage({ ...AS_DEMO, now: 0 })
  await tellStory({ now: NOON, house: stage.house, goTo: (at) => stage.clock.set(Math.max(stage.clock.now(), at)), say: () => {} })
  return stage
}

async function endHouse(): Promise<Stage> {
  const stage = await openToldHouse()
  stage.clock.pass(12 * HOUR)
  await stage.command(closeDueLots)
  stage.clock.pass(DAY - 12 * HOUR)
  const maker = await stage.as('maker')
  for (const { number } of (await maker.lots.all()).filter(({ state, soldWhere }) => state === 'open' && soldWhere === 'elsewhere'))
    await maker.bidding.elsewhereResult({ lot: number, hammer: '96', source: 'The other house, by letter' })
  const treasurer = await stage.as('treasurer')
  const books = await treasurer.books.all()
  for (const lot of books?.statement.lots.filter(({ owedMinor }) => owedMinor > 0).slice(0, 2) ?? [])
    await treasurer.booking.pay({
      key: `pays lot ${lot.number}`,
      lot: lot.number,
      amount: (lot.owedMinor / 100).toFixed(2),
      reference: `bank, ${lot.number}`,
      on: '',
    })
  await treasurer.booking.remit({ key: 'sent on to the cause', amount: '200.00', reference: 'transfer 1', on: '' })
  await treasurer.booking.cost({
    key: 'what the boxes cost',
    what: 'Boxes',
    about: 'sending',
    amount: '14.40',
    bearer: 'postage',
    paidFrom: 'bank',
    reference: 'till 3',
    on: '',
  })
  return stage
}
