// What has to be there before anything runs: the right Node, the packages, a build that is as new as the sources.
// Plain Node without packages, since it runs before they are installed.
import { spawnSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { existsSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs'
import { join, resolve } from 'node:path'
import { pathToFileURL } from 'node:url'
import { openSteps } from './steps.mjs'

const LEAST_NODE = [20, 19]
const SOURCES = ['app', 'server', 'db', 'seed', 'public', 'next.config.ts', 'package.json', 'package-lock.json', 'tsconfig.json']

const INSTALLED = 'node_modules/.tagstrip-lock'
const BUILT = 'dist/.sources'

export function checkNode() {
  const [major, minor] = process.versions.node.split('.').map(Number)
  if (major > LEAST_NODE[0] || (major === LEAST_NODE[0] && minor >= LEAST_NODE[1])) return
  console.error(`Tagstrip needs Node ${LEAST_NODE.join('.')} or later; this is ${process.versions.node}.`)
  process.exit(1)
}

/**
 * Installs the packages of the lock file and builds server and pages, each unless exactly that is there. The database driver may
 * have to be compiled, which takes longest: pages are built beside it. `whenServerRuns` begins as soon as the server could be started.
 */
export async function ensureReady(steps = openSteps(), whenServerRuns = async () => {}) {
  const { driver } = await ensureInstalled(steps)
  const sources = digest(SOURCES)
  const isBuilt = existsSync(BUILT) && readFileSync(BUILT, 'utf8') === sources
  const build = (words, part) => (isBuilt ? null : steps.run(words, process.execPath, ['server/house/programs/build.mjs', part]))
  const server = build('building the server', '--server-only')
  const pages = build('building the pages', '--pages-only')
  await Promise.all([pages, Promise.all([driver, server]).then(whenServerRuns)])
  if (!isBuilt) writeFileSync(BUILT, sources)
}

/** The packages, at once; `driver` resolves when the database driver is ready as well. */
export async function ensureInstalled(steps = openSteps()) {
  // The database driver is a module that fits one version of Node's modules only: with another Node it is installed anew.
  const packages = digest(['package-lock.json'])
  const want = `${packages} ${process.versions.modules}`
  const found = existsSync(INSTALLED) ? readFileSync(INSTALLED, 'utf8') : ''
  if (found === want) return { driver: null }
  // An earlier stamp did not say for which Node: what loads is what is wanted.
  if (found === packages && doesDriverLoad()) {
    writeFileSync(INSTALLED, want)
    return { driver: null }
  }
  const npm = (words, args) => steps.run(words, 'npm', [...args, '--no-audit', '--no-fund'], { shell: process.platform === 'win32' })
  await npm('installing packages', ['ci', '--ignore-scripts'])
  const driver = npm('making the database driver ready', ['rebuild']).then(() => writeFileSync(INSTALLED, want))
  return { driver }
}

const doesDriverLoad = () =>
  spawnSync(process.execPath, ['-e', "new (require('better-sqlite3'))(':memory:')"], { stdio: 'ignore' }).status === 0

/** npm passes a signal to its shell, and many a shell ends without passing it on: whoever has lost their shell takes that for the signal. */
function endWithNpm() {
  if (process.env.npm_lifecycle_event === undefined) return
  const parent = process.ppid
  const watch = setInterval(() => {
    if (process.ppid === parent) return
    clearInterval(watch)
    process.kill(process.pid, 'SIGTERM')
  }, 200)
  watch.unref()
}

/** One digest of the contents of files and folders. */
function digest(paths) {
  const hash = createHash('sha256')
  const add = (path) => {
    if (statSync(path).isDirectory()) for (const name of readdirSync(path).sort()) add(join(path, name))
    else hash.update(path).update(readFileSync(path))
  }
  for (const path of paths) if (existsSync(path)) add(path)
  return hash.digest('hex')
}

if (process.argv[1] === import.meta.filename) {
  checkNode()
  await ensureReady()
  const program = process.argv[2]
  if (program !== undefined) {
    endWithNpm()
    await import(pathToFileURL(resolve(program)).href)
  }
}
