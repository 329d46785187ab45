import { cpSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { noteAlive } from '#runtime/queue/alive'
import { damageOf } from '#sale/bids/kept-right.service'
import { makeBidder } from '#test/make/lot'
import { openStage, type Stage } from '#test/stage'
import { furnish } from '../furnish'
import { PUBLIC_URL } from '../hand'
import { between, Lie, pick, type Row, type Trial } from '../trial'

export const turnedBytes: Row = {
  id: 'R14',
  what: 'a letter turned in any row that the history of a lot stands on',
  goal: '1,000, all found, said where',
  times: 1_000,
  unit: 'letters',
  run,
}

/** What a history stands on: its entries, its signed heads, and the sealed maxima that its commitments are to. */
const ROWS = [
  { table: 'ledger_leaf', column: 'body', lot: 'lot_id' },
  { table: 'ledger_head', column: 'root', lot: 'lot_id' },
  { table: 'ledger_head', column: 'checkpoint', lot: 'lot_id' },
  { table: 'bid', column: 'sealed', lot: 'lot_id' },
  { table: 'bid', column: 'alias', lot: 'lot_id' },
  { table: 'lot', column: 'terms', lot: 'id' },
  { table: 'lot', column: 'head_hash', lot: 'id' },
] as const

const BIDDERS = ['Ada', 'Ben', 'Cai']

async function run(trial: Trial): Promise<void> {
  const { chance } = trial
  const made = join(trial.dir, 'house')
  await furnish(made, {
    ...{ lots: 3, bidders: 0, units: 0 },
    inside: async (stage: Stage, lots) => {
      for (const name of BIDDERS) {
        const { bid } = await makeBidder(stage, name)
        for (const { number } of lots) await bid(number, String(between(chance, 20, 400))).catch(() => {})
      }
      await stage.command((turn) => noteAlive(turn))
    },
  })
  trial.begins()
  for (let round = 1; trial.goesOn(); round++) {
    const dir = join(trial.dir, `turned-${round}`)
    cpSync(made, dir, { recursive: true })
    const { number, words } = turn(join(dir, 'tagstrip.db'), trial)
    const said = lookAt(dir, number)
    if (said === null)
      throw new Lie('whatever is altered is found at the start', `nothing was said of lot ${number}`, `round ${round}: ${words}`)
    rmSync(dir, { recursive: true, force: true })
    trial.tried()
  }
}

/** Turns one letter of one row, as a tool that writes into tables would, or a disk. */
function turn(file: string, { chance }: Trial): { number: number; words: string } {
  const { table, column, lot } = pick(chance, ROWS)
  const handle = new Database(file)
  try {
    for (const name of handle.prepare("SELECT name FROM sqlite_schema WHERE type = 'trigger'").pluck().all())
      handle.exec(`DROP TRIGGER "${String(name)}"`)
    handle.pragma('ignore_check_constraints = 1')
    const rows = handle
      .prepare(`SELECT rowid AS row, "${column}" AS text, "${lot}" AS lot FROM "${table}" WHERE length("${column}") > 0`)
      .all() as {
      row: number
      text: string
      lot: string
    }[]
    const { row, text, lot: id } = pick(chance, rows)
    const at = between(chance, 0, text.length - 1)
    const letter = pick(
      chance,
      [...'0123456789abcdefXYZ'].filter((one) => one !== text[at]),
    )
    handle.prepare(`UPDATE "${table}" SET "${column}" = ? WHERE rowid = ?`).run(text.slice(0, at) + letter + text.slice(at + 1), row)
    const number = Number(handle.prepare('SELECT number FROM lot WHERE id = ?').pluck().get(id))
    return { number, words: `${table}.${column} of lot ${number}, letter ${at + 1} of ${text.length}: "${text[at]}" became "${letter}"` }
  } finally {
    handle.close()
  }
}

/** What the house says of a lot when it is opened on such a folder: that it does not open, or what is damaged. */
function lookAt(dir: string, number: number): string | null {
  let stage: Stage | null = null
  try {
    stage = openStage({ now: Date.now(), dir, publicUrl: PUBLIC_URL })
    return damageOf(stage.sight(), number)
  } catch (reason) {
    return String(reason)
  } finally {
    stage?.house.close()
  }
}
