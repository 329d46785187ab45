import { parseArgs } from 'node:util'
import { ordeal } from './ordeal'
import { ROWS } from './rows'
import { isKept, type Line, tableOf } from './table'

const USAGE = `  npm run ordeal                          an hour, shared among all rows
  npm run ordeal -- --minutes 10          the same in short
  npm run ordeal -- --row R9 --seed 123   one row, or several with commas; by the same chance as a run that told this seed`

const SHOWN_EVERY_MS = 500
const print = (words: string) => process.stdout.write(`${words}\n`)

async function main(): Promise<number> {
  const { values } = parseArgs({ options: { minutes: { type: 'string' }, row: { type: 'string' }, seed: { type: 'string' } } })
  const minutes = Number(values.minutes ?? 60)
  const seed = Number(values.seed ?? Date.now() % 1_000_000)
  const names = values.row?.toUpperCase().split(',')
  const unknown = names?.filter((name) => !ROWS.some(({ id }) => id === name)) ?? []
  if (!(minutes > 0) || !Number.isSafeInteger(seed) || unknown.length > 0) {
    process.stderr.write(`${unknown.length > 0 ? `There is no row ${unknown.join(', ')}. ` : ''}What shall be tried?\n${USAGE}\n`)
    return 2
  }
  const rows = names ? ROWS.filter(({ id }) => names.includes(id)) : ROWS
  print(`${rows.length} rows in ${minutes} minutes, seed ${seed}`)
  const { lines, told } = await ordeal(rows, { seed, seconds: minutes * 60, show: openDisplay() })
  print(`\n${tableOf(lines)}`)
  if (told) {
    const { row, lie } = told
    print(`\nThe first lie, in ${row.id} (${row.what}):`)
    print(`  promised: ${lie.promised}\n  seen:     ${lie.seen}\n  while:    ${lie.step}`)
    print(`To see it again: npm run ordeal -- --row ${row.id} --seed ${seed} --minutes ${Math.max(1, Math.ceil(minutes / rows.length))}`)
  } else if (!isKept(lines)) print('\nA row that tried nothing has proved nothing.')
  return isKept(lines) && !told ? 0 : 1
}

/** On a terminal the table moves; elsewhere each row is said once, when it is over. */
function openDisplay(): (lines: readonly Line[]) => void {
  let shownAt = 0
  let height = 0
  const said = new Set<string>()
  return (lines) => {
    if (!process.stdout.isTTY) {
      for (const line of lines)
        if (line.result && !line.isOn && !said.has(line.row.id)) {
          said.add(line.row.id)
          print(tableOf([line]).split('\n').slice(2).join('\n'))
        }
      return
    }
    if (performance.now() - shownAt < SHOWN_EVERY_MS) return
    shownAt = performance.now()
    const table = tableOf(lines, process.stdout.columns)
    process.stdout.write(`${height > 0 ? `\x1b[${height}A` : ''}\x1b[0J${table}\n`)
    height = table.split('\n').length
  }
}

main().then(
  (code) => process.exit(code),
  (reason) => {
    process.stderr.write(`The ordeal itself failed: ${reason instanceof Error ? reason.stack : String(reason)}\n`)
    process.exit(1)
  },
)
