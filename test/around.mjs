// What the tests need around the house: memory to write into, a browser, the programs beside which the house is tried.
import { spawnSync } from 'node:child_process'
import { existsSync, mkdirSync, statfsSync } from 'node:fs'
import { join } from 'node:path'

/** What tests write is thrown away: it goes into memory where there is plenty, so that a slow disk does not slow them. */
export function writeIntoMemory() {
  const memory = '/dev/shm'
  if (!existsSync(memory)) return
  const { bavail, bsize } = statfsSync(memory)
  if (bavail * bsize > 4e9) process.env.TMPDIR = memory
}

/** A browser for the journeys: the system's Chromium, Debian's package where it can be installed, else Playwright's own. */
export function ensureBrowser(say) {
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
  libfaketime: `usr/lib/${process.arch === 'arm64' ? 'aarch64' : 'x86_64'}-linux-gnu/faketime/libfaketime.so.1`,
}
/** What one of them wants beside it that a system may not have. */
const BESIDE = { 'openssh-server': 'libwrap0' }

/**
 * The neighbours: the system's, else Debian's packages, unpacked and not installed, since an installed one would start by
 * itself. Where one cannot be had, its tests say that they were left out.
 */
export function ensureNeighbours(say) {
  if (!existsSync('/etc/debian_version')) return
  const into = (name) => join('node_modules', '.cache', name)
  const missing = Object.entries(NEIGHBOURS).filter(([name, path]) => !existsSync(join('/', path)) && !existsSync(join(into(name), path)))
  if (missing.length === 0) return
  if (process.getuid?.() === 0) spawnSync('apt-get', ['update', '-qq'], { stdio: 'ignore' })
  for (const [name] of missing) {
    say(`fetching ${name} from Debian`)
    mkdirSync(into(name), { recursive: true })
    const load = [name, BESIDE[name] ?? []].flat().map((one) => `apt-get download -qq ${one} && dpkg -x ${one}_*.deb .`)
    spawnSync('sh', ['-c', load.join(' && ')], { cwd: into(name), stdio: 'ignore' })
  }
}
