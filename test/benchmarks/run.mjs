// `npm run bench`: measures, and asserts nothing. At its end stands one table, which is also written down with the machine that it
// comes from (test/benchmarks/last-run.md), so that a change can be held against it. `npm run bench -- relays` measures what is named.
import { spawnSync } from 'node:child_process'
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { cpus, loadavg, release, tmpdir, totalmem, type } from 'node:os'
import { join } from 'node:path'
import { checkNode, ensureReady } from '../../server/house/programs/ready.mjs'

/** What goes into the table when nothing is named: all of it takes less than ten minutes. The others take longer each, or have no goal. */
const USUAL = ['pages', 'bids', 'watchers', 'paper', 'build', 'shelf', 'forecast', 'planner']

process.chdir(join(import.meta.dirname, '..', '..'))
checkNode()
await ensureReady()
const named = process.argv.slice(2)
const folder = mkdtempSync(join(tmpdir(), 'tagstrip-bench-'))
const rows = join(folder, 'rows')
const before = loadavg()[0]
for (const name of named.length > 0 ? named : USUAL)
  spawnSync(join('node_modules', '.bin', 'vitest'), ['run', '-c', 'test/benchmarks/vitest.config.ts', `test/benchmarks/${name}`], {
    stdio: 'inherit',
    shell: process.platform === 'win32',
    env: { ...process.env, BENCH_ROWS: rows },
  })
const measured = existsSync(rows)
  ? readFileSync(rows, 'utf8')
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line))
  : []
rmSync(folder, { recursive: true })

const figure = (value) => (value === undefined ? '' : value >= 100 ? value.toFixed(0) : value >= 10 ? value.toFixed(1) : value.toFixed(2))

/** A goal in words, and whether it is met. */
function judged({ run, baseline, goal = {} }) {
  const ratio = baseline === undefined ? undefined : run / baseline
  const { atLeast, atMost, runAtLeast, runAtMost } = goal
  if (atLeast !== undefined) return { words: `ratio ≥ ${atLeast}`, isMet: ratio >= atLeast }
  if (atMost !== undefined) return { words: `ratio ≤ ${atMost}`, isMet: ratio <= atMost }
  if (runAtLeast !== undefined) return { words: `≥ ${runAtLeast}`, isMet: run >= runAtLeast }
  if (runAtMost !== undefined) return { words: `≤ ${runAtMost}`, isMet: run <= runAtMost }
  return { words: '', isMet: null }
}

const lines = [
  ['measure', 'this run', 'baseline', 'of', 'ratio', 'goal', 'met'],
  ...measured.map((one) => {
    const { words, isMet } = judged(one)
    const ratio = one.baseline === undefined ? '' : figure(one.run / one.baseline)
    return [one.measure, figure(one.run), figure(one.baseline), one.of ?? '', ratio, words, isMet === null ? '' : isMet ? 'yes' : 'NO']
  }),
]
const widths = lines[0].map((_, column) => Math.max(...lines.map((line) => line[column].length)))
const written = lines.map((line) => `| ${line.map((cell, column) => cell.padEnd(widths[column])).join(' | ')} |`)
written.splice(1, 0, `| ${widths.map((width) => '-'.repeat(width)).join(' | ')} |`)
const table = written.join('\n')
console.log(`\n${table}`)
if (named.length === 0 && measured.length > 0) {
  const [{ model = 'unknown' } = {}] = cpus()
  const memory = `${(totalmem() / 1e9).toFixed(0)} GB`
  const machine = `${cpus().length} × ${model.trim()}, ${memory}, ${type()} ${release()}, Node ${process.versions.node}`
  writeFileSync(
    join(import.meta.dirname, 'last-run.md'),
    `# The last run of \`npm run bench\`\n\nOn ${machine}; its load was ${before.toFixed(1)} when the run began. Ratios hold, figures only there.\n\n${table}\n`,
  )
}
