import { spawn } from 'node:child_process'
import { cpSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { type Mutant, mutantsOf, mutated } from '../mutants'
import { ROOT } from '../served'
import { Lie, pick, type Row, type Trial } from '../trial'

const FOUND = 0.95
/** Of fewer than these a share says little. */
const ENOUGH = 40
const LONGEST_RUN_MS = 120_000

/** The rules of money, bidding and the ledger, each with the tests of its room and those of its published figures. */
const RULES: readonly { file: string; tests: readonly string[] }[] = [
  ...['price', 'late-bid', 'closing', 'ladder'].map((name) => ({
    file: `server/sale/price/${name}.rules.ts`,
    tests: [
      'test/sale/price',
      'test/reference/auction.test.ts',
      'test/reference/late-bids.test.ts',
      'test/sale/history/laws.test.ts',
      'test/sale/lots/prepare.test.ts',
    ],
  })),
  ...['decide', 'replay', 'merkle', 'ledger', 'leaves', 'checkpoint', 'check-history', 'play-again'].map((name) => ({
    file: `server/sale/history/${name}.rules.ts`,
    tests: ['test/sale/history', 'test/reference/merkle.test.ts'],
  })),
  ...['journal', 'lot-account', 'covering', 'unplaced'].map((name) => ({
    file: `server/money/journal/${name}.rules.ts`,
    tests: ['test/money/journal', 'test/money/booking', 'test/money/books', 'test/money/proceeds'],
  })),
  { file: 'server/kernel/money.ts', tests: ['test/kernel/money.test.ts', 'test/reference/currency.test.ts'] },
]

const WIDER = ['test/sale', 'test/money', 'test/reference', 'test/kernel']

export const mutants: Row = {
  id: 'R18',
  what: 'mutants of the money, bidding and ledger rules',
  goal: '95 % found by the suite',
  times: RULES.reduce((sum, { file }) => sum + mutantsOf(readFileSync(join(ROOT, file), 'utf8')).length, 0),
  unit: 'mutants',
  weight: 1.5,
  run,
}

/** In a copy of the sources, never in the tree itself. */
async function run(trial: Trial): Promise<void> {
  for (const folder of ['server', 'test', 'db', 'seed', 'app', 'public', 'package.json', 'tsconfig.json'])
    cpSync(join(ROOT, folder), join(trial.dir, folder), { recursive: true })
  symlinkSync(join(ROOT, 'node_modules'), join(trial.dir, 'node_modules'))
  const left = RULES.flatMap(({ file, tests }) => {
    const source = readFileSync(join(trial.dir, file), 'utf8')
    return mutantsOf(source).map((mutant) => ({ file, tests, source, mutant }))
  })
  const sound = new Set<string>()
  const missed: string[] = []
  while (trial.goesOn() && left.length > 0) {
    const one = pick(trial.chance, left)
    left.splice(left.indexOf(one), 1)
    const { file, tests, source, mutant } = one
    // A suite that fails by itself finds everything.
    if (!sound.has(tests.join()) && (await fails(trial.dir, tests))) throw new Error(`${tests.join(', ')} fail where nothing was changed`)
    sound.add(tests.join())
    writeFileSync(join(trial.dir, file), mutated(source, mutant))
    // What the tests of its room do not find, others may.
    if (!(await fails(trial.dir, tests)) && !(await fails(trial.dir, WIDER))) missed.push(inWords(file, mutant))
    writeFileSync(join(trial.dir, file), source)
    trial.tried()
  }
  const { tried } = trial.result
  trial.note(`${tried - missed.length} of ${tried} mutants found${missed.length > 0 ? `; not found: ${missed.join('; ')}` : ''}`)
  if (tried >= ENOUGH && missed.length > tried * (1 - FOUND))
    throw new Lie('95 of 100 mutants are found', `${missed.length} of ${tried} are not`, missed.join('; '))
}

const inWords = (file: string, { line, was, is }: Mutant): string =>
  `${file}:${line} ${was.replaceAll(/\s+/g, ' ').slice(0, 60)} → ${is.replaceAll(/\s+/g, ' ').slice(0, 60)}`

/** Whether the tests find something. One that never ends has found that as well. */
async function fails(root: string, tests: readonly string[]): Promise<boolean> {
  const words = ['run', '-c', 'test/vitest.config.ts', '--bail', '1', ...tests]
  const child = spawn(process.execPath, [join(ROOT, 'node_modules', 'vitest', 'vitest.mjs'), ...words], {
    cwd: root,
    stdio: 'ignore',
    env: { ...process.env, LAWS: '11000' },
  })
  const timer = setTimeout(() => child.kill('SIGKILL'), LONGEST_RUN_MS)
  const code = await new Promise<number | null>((resolve) => child.once('exit', resolve))
  clearTimeout(timer)
  return code !== 0
}
