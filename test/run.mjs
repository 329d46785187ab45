// `npm test`: installs what is missing, then runs every check. The last line is `N passed, N failed`.
import { spawn, spawnSync } from 'node:child_process'
import { existsSync, mkdirSync, readFileSync, rmSync, statfsSync } from 'node:fs'
import { join } from 'node:path'
import { checkNode, ensureBuilt, ensureInstalled } from '../server/house/programs/ready.mjs'

process.chdir(join(import.meta.dirname, '..'))
writeIntoMemory()
const say = (words) => console.log(`\n• ${words}`)
const started = Date.now()
let passed = 0
let failed = 0
/** Names of what failed, said once more at the end. */
const failing = []

checkNode()
ensureInstalled(say)
ensureBrowser()
ensureNeighbours()
rmSync('test-results', { recursive: true, force: true })
mkdirSync('test-results', { recursive: true })

say('format, lint, types, import rules, dead code')
const bin = (name) => join('node_modules', '.bin', name)
await Promise.all([
  one('types', bin('tsc'), ['--noEmit', '-p', '.']),
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
])
count('unit tests', 'test-results/vitest.json', ({ numPassedTests, numFailedTests, testResults }) => {
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

say('the journeys, in a browser, against the production build')
ensureBuilt(say)
await run(bin('playwright'), ['test', '-c', 'test/journeys/playwright.config.ts'])
count('journeys', 'test-results/journeys.json', ({ stats, suites }) => {
  failing.push(...failedIn(suites))
  if (stats.flaky > 0) console.log(`! ${stats.flaky} of the journeys passed at the second try only: look into it`)
  return { ok: stats.expected + stats.flaky, bad: stats.unexpected }
})

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
  return suites.flatMap(({ specs = [], suites: inner = [] }) => [
    ...specs.filter(({ ok }) => !ok).map(({ file, title }) => `${file}: ${title}`),
    ...failedIn(inner),
  ])
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

/** What tests write is thrown away: it goes into memory where there is plenty, so that a slow disk does not slow them. */
function writeIntoMemory() {
  const memory = '/dev/shm'
  if (!existsSync(memory)) return
  const { bavail, bsize } = statfsSync(memory)
  if (bavail * bsize > 4e9) process.env.TMPDIR = memory
}

/** A browser for the journeys: the system's Chromium, Debian's package where it can be installed, else Playwright's own. */
function ensureBrowser() {
  if (existsSync('/usr/bin/chromium') || existsSync('/usr/bin/chromium-browser')) return
  if (existsSync('/etc/debian_version') && process.getuid?.() === 0) {
    say('installing Chromium from Debian')
    const quiet = { stdio: ['ignore', 'ignore', 'inherit'] }
    spawnSync('apt-get', ['update', '-qq'], quiet)
    if (spawnSync('apt-get', ['install', '-y', '-qq', 'chromium'], quiet).status === 0) return
  }
  say("installing Playwright's own browser")
  spawnSync(join('node_modules', '.bin', 'playwright'), ['install', 'chromium'], { stdio: 'inherit' })
}

/** Programs beside which the house is tried, each by the name of its package in Debian and where it stands in that. */
const NEIGHBOURS = {
  nginx: 'usr/sbin/nginx',
  'nats-server': 'usr/sbin/nats-server',
  'openssh-server': 'usr/sbin/sshd',
}

/**
 * The neighbours: the system's, else Debian's packages, unpacked and not installed, since an installed one would start by
 * itself. Where one cannot be had, its tests say that they were left out.
 */
function ensureNeighbours() {
  if (!existsSync('/etc/debian_version')) return
  const into = (name) => join('node_modules', '.cache', name)
  const missing = Object.entries(NEIGHBOURS).filter(([name, path]) => !existsSync(join('/', path)) && !existsSync(join(into(name), path)))
  if (missing.length === 0) return
  if (process.getuid?.() === 0) spawnSync('apt-get', ['update', '-qq'], { stdio: 'ignore' })
  for (const [name] of missing) {
    say(`fetching ${name} from Debian`)
    mkdirSync(into(name), { recursive: true })
    spawnSync('sh', ['-c', `apt-get download -qq ${name} && dpkg -x ${name}_*.deb .`], { cwd: into(name), stdio: 'ignore' })
  }
}
