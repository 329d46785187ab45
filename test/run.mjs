// `npm test`: installs what is missing, then runs every check. The last line is `N passed, N failed`.
import { spawn } from 'node:child_process'
import { existsSync, mkdirSync, readFileSync, rmSync } from 'node:fs'
import { join, relative, resolve } from 'node:path'
import { checkNode, ensureReady } from '../server/house/programs/ready.mjs'
import { ensureBrowser, ensureNeighbours, writeIntoMemory } from './around.mjs'

process.chdir(join(import.meta.dirname, '..'))
writeIntoMemory()
process.env.REACHED_BY_JOURNEYS = resolve('node_modules', '.cache', 'reached-by-journeys')
const say = (words) => console.log(`\n• ${words}`)
const started = Date.now()
let passed = 0
let failed = 0
/** Names of what failed, said once more at the end. */
const failing = []
/** What was run, and for how many milliseconds. */
const took = []

checkNode()
await ensureReady()
ensureBrowser(say)
ensureNeighbours(say)
rmSync('test-results', { recursive: true, force: true })
mkdirSync('test-results', { recursive: true })

const bin = (name) => join('node_modules', '.bin', name)
/** Which tests and journeys to run; null where it is all of them. */
const some = process.argv.includes('--changed') ? await whatChanged(process.argv[process.argv.indexOf('--changed') + 1]) : null

say('format, lint, types, import rules, dead code')
await Promise.all([
  // What the compiler found out the last time is kept: after a small change it takes seconds.
  one('types', bin('tsc'), ['--noEmit', '-p', '.', '--incremental', '--tsBuildInfoFile', 'node_modules/.cache/types.tsbuildinfo']),
  (async () => {
    await one('format and lint', bin('biome'), ['check', '--error-on-warnings', '.'])
    await one('import rules', bin('depcruise'), ['--config', 'test/shape/dependencies.cjs', 'app', 'server', 'db', 'seed', 'test'])
    await one('dead code', bin('knip'), ['--config', 'test/shape/knip.json'])
  })(),
])

say('unit, property and API tests')
const units = await run(bin('vitest'), [
  'run',
  '-c',
  'test/vitest.config.ts',
  '--reporter=default',
  '--reporter=json',
  '--outputFile.json=test-results/vitest.json',
  ...(some?.tests ?? []),
])
count('unit tests', 'test-results/vitest.json', ({ numPassedTests, numFailedTests, testResults }) => {
  for (const { name, startTime, endTime } of testResults) took.push([relative('.', name), endTime - startTime])
  const failures = testResults.flatMap(({ assertionResults }) => assertionResults.filter(({ status }) => status === 'failed'))
  for (const { fullName } of failures) failing.push(fullName)
  // A file that could not even be read has no test that failed.
  const unread = testResults.filter(({ status, assertionResults }) => status === 'failed' && assertionResults.length === 0)
  for (const { name, message } of unread) failing.push(`${name}: ${message}`)
  // An error that no test waited for fails the run as well.
  const isStray = units.status !== 0 && numFailedTests + unread.length === 0
  if (isStray) failing.push('unit tests: an error that no test waited for; it is named above')
  return { ok: numPassedTests, bad: numFailedTests + unread.length + (isStray ? 1 : 0) }
})

if (!some || some.journeys.length > 0) {
  say('the journeys, in a browser, against the production build')
  if (some) process.env.ONE_SIZE = '1'
  await run(bin('playwright'), ['test', '-c', 'test/journeys/playwright.config.ts', ...(some?.journeys ?? [])])
  count('journeys', 'test-results/journeys.json', ({ stats, suites }) => {
    failing.push(...failedIn(suites))
    if (stats.flaky > 0) console.log(`! ${stats.flaky} of the journeys passed at the second try only: look into it`)
    for (const spec of specsIn(suites))
      took.push([
        `${spec.file}: ${spec.title}`,
        spec.tests.flatMap(({ results }) => results).reduce((sum, { duration }) => sum + duration, 0),
      ])
    return { ok: stats.expected + stats.flaky, bad: stats.unexpected }
  })
}

console.log('\nthe ten that took longest')
for (const [name, ms] of took.sort(([, a], [, b]) => b - a).slice(0, 10)) console.log(`  ${(ms / 1000).toFixed(1).padStart(6)} s  ${name}`)
console.log(`\nall in ${Math.round((Date.now() - started) / 1000)} s`)
for (const name of failing) console.log(`✗ ${name}`)
process.exitCode = failed > 0 ? 1 : 0
console.log(`${passed} passed, ${failed} failed`)

/** A check that is one test: it passes when the command does. */
async function one(name, command, args) {
  const began = Date.now()
  const { status, output } = await run(command, args, true)
  if (status === 0) passed++
  else {
    failed++
    failing.push(name)
    console.log(output)
  }
  console.log(`${status === 0 ? '✓' : '✗'} ${name} (${((Date.now() - began) / 1000).toFixed(1)} s)`)
}

/** The titles of journeys that failed at both tries, however deep they stand. */
function failedIn(suites) {
  return specsIn(suites)
    .filter(({ ok }) => !ok)
    .map(({ file, title }) => `${file}: ${title}`)
}

function specsIn(suites) {
  return suites.flatMap(({ specs = [], suites: inner = [] }) => [...specs, ...specsIn(inner)])
}

/** `npm test -- --changed`: what differs from the last commit, or from the one that is named; where nothing does, what that commit brought. */
async function whatChanged(base) {
  const { brokenBy, changedFiles } = await import('./changed.mjs')
  const files = changedFiles(base)
  const found = await brokenBy(files)
  const many = (count, one) => `${count} ${one}${count === 1 ? '' : 's'}`
  say(
    found
      ? `${many(files.length, 'changed file')} can have broken ${many(found.tests.length, 'file')} of tests and ${many(found.journeys.length, 'file')} of journeys; the rest is left out`
      : `what changed (${many(files.length, 'file')}) can have broken anything: everything is run`,
  )
  return found
}

/** Counts what a report says; a report that is not there is a failure. */
function count(name, file, read) {
  const { ok, bad } = existsSync(file) ? read(JSON.parse(readFileSync(file, 'utf8'))) : { ok: 0, bad: 1 }
  passed += ok
  failed += bad
  if (ok === 0 && bad === 0) failed++
  console.log(`${bad === 0 && ok > 0 ? '✓' : '✗'} ${name}: ${ok} passed, ${bad} failed`)
}

function run(command, args, quiet = false) {
  return new Promise((resolve) => {
    const child = spawn(command, args, { stdio: quiet ? ['ignore', 'pipe', 'pipe'] : ['ignore', 'inherit', 'inherit'] })
    let output = ''
    child.stdout?.on('data', (part) => {
      output += part
    })
    child.stderr?.on('data', (part) => {
      output += part
    })
    child.on('close', (status) => resolve({ status, output }))
    child.on('error', (error) => resolve({ status: 1, output: String(error) }))
  })
}
