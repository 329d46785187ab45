import { type ChildProcess, execFileSync, spawn } from 'node:child_process'
import { closeSync, existsSync, mkdirSync, openSync, readFileSync, rmSync, statSync, truncateSync, writeFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { delimiter, join } from 'node:path'

/** Of the format of what it writes: later ones write another. */
const KNOWN = /^v?0\.3\.\d+/

/** The program Litestream: what is named, else what came with the packages, else what is on the PATH. Throws, in words. */
export function findLitestream(named: string | undefined): string {
  const program = named ?? packaged() ?? onPath()
  if (program === null)
    throw new Error(
      'A copy elsewhere wants the program Litestream 0.3. On Linux on x64 it comes with the packages; elsewhere install it and set LITESTREAM to its path.',
    )
  let version: string
  try {
    version = execFileSync(program, ['version'], { encoding: 'utf8', timeout: 10_000 }).trim()
  } catch (cause) {
    throw new Error(`Litestream cannot be started from ${program}. Set LITESTREAM to the path of version 0.3.`, { cause })
  }
  if (!KNOWN.test(version))
    throw new Error(`This house knows Litestream 0.3, and ${program} says that it is ${version}. Set LITESTREAM to another one.`)
  return program
}

function packaged(): string | null {
  try {
    const file = createRequire(import.meta.url).resolve('@flydotio/litestream-linux-x64/litestream')
    return process.platform === 'linux' && process.arch === 'x64' ? file : null
  } catch {
    return null
  }
}

const onPath = (): string | null =>
  (process.env.PATH ?? '')
    .split(delimiter)
    .map((dir) => join(dir, 'litestream'))
    .find((file) => existsSync(file)) ?? null

interface Replicated {
  database: string
  /** The folder into which it writes. */
  into: string
  /** The folder in which it keeps what it remembers, and what it is told. */
  beside: string
}

const CONFIG = 'litestream.json'
const CHILD = 'litestream.pid'
const SAID = 'litestream.log'
const MOST_SAID_BYTES = 1024 * 1024

/**
 * It looks at the log four times a second and writes what is new twice a second, so that less than a second of work lies here
 * alone. Beside other readers it begins the log anew only where it has grown
 * long: while it waits for them nothing can be written. A snapshot each quarter of an hour bounds how much has to be read back; an hour is kept. JSON is YAML, which it reads.
 */
const configOf = ({ database, into, beside }: Replicated): string =>
  JSON.stringify({
    logging: { type: 'json', level: 'error', stderr: false },
    dbs: [
      {
        path: database,
        'meta-path': join(beside, 'remembered'),
        'monitor-interval': '250ms',
        'checkpoint-interval': '1m',
        'min-checkpoint-page-count': 1000,
        'max-checkpoint-page-count': 25_000,
        replicas: [
          {
            type: 'file',
            path: into,
            'sync-interval': '500ms',
            'snapshot-interval': '15m',
            retention: '1h',
            'retention-check-interval': '5m',
          },
        ],
      },
    ],
  })

export interface Replicator {
  /** What it last said of what fails, and when; null after a start. */
  fault(): { words: string; at: number } | null
  isRunning(): boolean
  /** Ends it after it has written what is left; at once where that takes longer than it may. */
  stop(): Promise<void>
  /** Ends it at once, so that nobody else reads the database. It is started again by itself. */
  letGo(): void
}

const FIRST_PAUSE_MS = 500
const LONGEST_PAUSE_MS = 30_000
const STEADY_MS = 30_000
const LONGEST_STOP_MS = 4_000

interface ReplicatorParts extends Replicated {
  program: string
  /** Told when it begins to read the log, and when it has ended. */
  began(): void
  ended(): void
}

/** Litestream as a child of this process, started again with a growing pause when it ends. */
export function openReplicator(parts: ReplicatorParts): Replicator {
  const { program, beside, began, ended } = parts
  const config = join(beside, CONFIG)
  const log = join(beside, SAID)
  let heard = 0
  let child: ChildProcess | null = null
  let fault: { words: string; at: number } | null = null
  let again: NodeJS.Timeout | null = null
  let isStopping = false
  let pause = FIRST_PAUSE_MS

  /** Reads what it has said since this was asked last. */
  const hear = () => {
    const { size = 0 } = statSync(log, { throwIfNoEntry: false }) ?? {}
    if (size === heard) return
    const all = readFileSync(log)
    const lines = all.subarray(heard).toString().split('\n')
    // A line that is not whole yet is read the next time.
    const rest = lines.pop() ?? ''
    heard = all.length - Buffer.byteLength(rest)
    const words = lines.flatMap((line) => faultIn(line) ?? []).at(-1)
    if (words !== undefined) fault = { words, at: Date.now() }
    if (size < MOST_SAID_BYTES) return
    truncateSync(log)
    heard = 0
  }

  const start = () => {
    again = null
    mkdirSync(beside, { recursive: true, mode: 0o700 })
    writeFileSync(config, configOf(parts), { mode: 0o600 })
    const startedAt = performance.now()
    // What it says goes into a file: said into a pipe, the first word after the house has died would end it on the spot.
    writeFileSync(log, '', { mode: 0o600 })
    heard = 0
    const out = openSync(log, 'a')
    // It ends when what it was given to run ends, and that waits for a pipe to close that only this process holds open: however
    // this one ends, it writes what is left and is gone, and never writes beside a new house.
    const started = spawn(program, ['replicate', '-config', config, '-no-expand-env', '-exec', "sh -c 'read -r line <&3'"], {
      stdio: ['ignore', out, out, 'pipe'],
    })
    closeSync(out)
    child = started
    began()
    if (started.pid !== undefined) writeFileSync(join(beside, CHILD), `${started.pid}\n`, { mode: 0o600 })
    const gone = (words: string) => {
      if (child !== started) return
      hear()
      child = null
      ended()
      if (isStopping) return
      fault ??= { words, at: Date.now() }
      if (performance.now() - startedAt > STEADY_MS) pause = FIRST_PAUSE_MS
      again = setTimeout(start, pause)
      again.unref()
      pause = Math.min(LONGEST_PAUSE_MS, 2 * pause)
    }
    started.once('error', (reason) => gone(`Litestream could not be started: ${reason.message}`))
    started.once('exit', (code, signal) => gone(`Litestream ended (${signal ?? `code ${code}`}) and is started again`))
    started.stdio[3]?.on('error', () => {})
  }
  start()

  return {
    fault() {
      hear()
      return fault
    },
    isRunning: () => child !== null,
    async stop() {
      isStopping = true
      if (again) clearTimeout(again)
      const ending = child
      if (!ending) return
      await new Promise<void>((resolve) => {
        const cut = setTimeout(() => ending.kill('SIGKILL'), LONGEST_STOP_MS)
        ending.once('exit', () => {
          clearTimeout(cut)
          resolve()
        })
        ending.kill('SIGTERM')
      })
      rmSync(join(beside, CHILD), { force: true })
    },
    letGo() {
      child?.kill('SIGKILL')
      pause = FIRST_PAUSE_MS
    },
  }
}

/** What an entry of its log says of what fails; null for any other. */
function faultIn(line: string): string | null {
  try {
    const { level, msg, error } = JSON.parse(line) as Record<string, unknown>
    return level === 'ERROR' ? `Litestream says: ${[msg, error].filter((part) => typeof part === 'string').join(': ')}` : null
  } catch {
    return null
  }
}

/** Ends a Litestream that an earlier house left behind, if it has not ended by itself. Nothing is ended but what was given this very configuration. */
export async function endOrphan(beside: string): Promise<void> {
  const note = join(beside, CHILD)
  const pid = existsSync(note) ? Number(readFileSync(note, 'utf8')) : 0
  const isOurs = () => Number.isInteger(pid) && pid > 1 && commandOf(pid).includes(join(beside, CONFIG))
  for (let tries = 0; isOurs(); tries += 1) {
    // It is writing what is left; for that it has three seconds.
    if (tries >= 30) process.kill(pid, tries > 40 ? 'SIGKILL' : 'SIGTERM')
    await new Promise((resolve) => setTimeout(resolve, 100))
  }
  rmSync(note, { force: true })
}

function commandOf(pid: number): string {
  try {
    if (process.platform === 'linux') return readFileSync(`/proc/${pid}/cmdline`, 'utf8').replaceAll('\0', ' ')
    return execFileSync('ps', ['-p', String(pid), '-o', 'command='], { encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] })
  } catch {
    return ''
  }
}

/** Makes a database of what lies in a folder that Litestream wrote. */
export function readBack(program: string, { from, generation, into }: { from: string; generation: string; into: string }): Promise<void> {
  // Given as an address, a folder with a space in its name would not be found: Litestream looks for it with %20.
  const config = `${into}.${CONFIG}`
  writeFileSync(config, JSON.stringify({ dbs: [{ path: into, replicas: [{ type: 'file', path: from }] }] }), { mode: 0o600 })
  return new Promise<void>((resolve, reject) => {
    const child = spawn(program, ['restore', '-config', config, '-no-expand-env', '-generation', generation, '-o', into, into], {
      stdio: ['ignore', 'pipe', 'pipe'],
    })
    let said = ''
    for (const stream of [child.stdout, child.stderr])
      stream.setEncoding('utf8').on('data', (part: string) => {
        said += part
      })
    child.once('error', reject)
    child.once('close', (code) => {
      for (const rest of ['-shm', '-wal']) rmSync(`${into}.tmp${rest}`, { force: true })
      if (code === 0) resolve()
      else reject(new Error(`The copy is damaged. Litestream says: ${/error="?([^"\n]*)/.exec(said)?.[1] ?? `it ended with code ${code}`}`))
    })
  }).finally(() => rmSync(config, { force: true }))
}
