// What has to be there before anything runs: the right Node, the packages, a build that is as new as the sources.
// Plain Node without packages, since it runs before they are installed.
import { spawnSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { existsSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs'
import { join, resolve } from 'node:path'
import { pathToFileURL } from 'node:url'

const LEAST_NODE = [20, 19]
const SOURCES = ['app', 'server', 'db', 'seed', 'public', 'next.config.ts', 'package.json', 'package-lock.json', 'tsconfig.json']

export function checkNode() {
  const [major, minor] = process.versions.node.split('.').map(Number)
  if (major > LEAST_NODE[0] || (major === LEAST_NODE[0] && minor >= LEAST_NODE[1])) return
  console.error(`Tagstrip needs Node ${LEAST_NODE.join('.')} or later; this is ${process.versions.node}.`)
  process.exit(1)
}

/** Installs the packages of the lock file unless exactly these are there. */
export function ensureInstalled(say) {
  const stamp = 'node_modules/.tagstrip-lock'
  // The database driver is a module that fits one version of Node's modules only: with another Node it is installed anew.
  const packages = digest(['package-lock.json'])
  const want = `${packages} ${process.versions.modules}`
  const found = existsSync(stamp) ? readFileSync(stamp, 'utf8') : ''
  if (found === want) return
  // An earlier stamp did not say for which Node: what loads is what is wanted.
  if (found === packages && doesDriverLoad()) {
    writeFileSync(stamp, want)
    return
  }
  say('installing packages (a minute or two the first time; longer where the database driver has to be compiled)')
  must(
    spawnSync('npm', ['ci', '--no-audit', '--no-fund'], { stdio: ['ignore', 'inherit', 'inherit'], shell: process.platform === 'win32' }),
    'npm ci',
  )
  writeFileSync(stamp, want)
}

/** Builds server and pages unless the build is of exactly these sources. */
export function ensureBuilt(say) {
  const stamp = 'dist/.sources'
  const want = digest(SOURCES)
  if (existsSync(stamp) && readFileSync(stamp, 'utf8') === want) return
  say('building (half a minute)')
  must(spawnSync(process.execPath, ['server/house/programs/build.mjs'], { stdio: ['ignore', 'inherit', 'inherit'] }), 'the build')
  writeFileSync(stamp, want)
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

function must({ status, error }, what) {
  if (status === 0) return
  console.error(`\n${what} failed${error ? `: ${error.message}` : ''}. What it said is above.`)
  process.exit(1)
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
  ensureInstalled(console.log)
  ensureBuilt(console.log)
  const program = process.argv[2]
  if (program !== undefined) {
    endWithNpm()
    await import(pathToFileURL(resolve(program)).href)
  }
}
