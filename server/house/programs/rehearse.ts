import { type ChildProcess, spawn } from 'node:child_process'
import { randomBytes } from 'node:crypto'
import { existsSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { parseArgs } from 'node:util'
import Database from 'better-sqlite3'
import { FASTEST, type FromHouse, type FromRehearsal } from '#air/rehearsal/rehearsal.contract'
import { reportLines } from '#air/rehearsal/report.rules'
import { showClock } from '#kernel/wall-clock'
import { writeForOwnerAlone } from '#runtime/disk/owner-alone'
import { enterFolder } from '#runtime/disk/swap'
import { readConfig } from '#runtime/settings/config'
import { beginsAt, copyForRehearsal } from '../rehearsal/copy'
import { AWAY_MS } from '../rehearsal/open-rehearsal'
import { addressFor } from '../rehearsal/pass'
import { say as sayAsProgram, sayFatal } from './saying'

/** One that the house began writes into the house's log. */
const isOfTheHouse = process.send !== undefined
const say = (words: string) => (isOfTheHouse ? sayAsProgram(words.trim()) : void process.stdout.write(`${words}\n`))
const tell = (message: FromRehearsal) => void process.send?.(message)

/** `npm run rehearse`: copies the house, plays its day in a process of its own, and cleans up. This process starts that one anew when it is killed. */
/**
 * How each of the staff comes in. The passes are told on the terminal of whoever began it there; one that the house began
 * writes into the house's log, which is no place for them.
 */
function waysIn(staff: readonly { personId: string; name: string; role: string }[], gate: { url: string; key: string }): string {
  if (isOfTheHouse) return 'The staff come in by its page in the house.\n'
  const addresses = staff.map(({ personId, name, role }) => `  ${name} (${role}): ${addressFor(gate, personId)}`)
  return `Each address opens it to one person:\n${addresses.join('\n')}\nCtrl-C ends it; the copy is deleted then.\n`
}

async function main(): Promise<void> {
  writeForOwnerAlone()
  const { values } = parseArgs({
    options: {
      pace: { type: 'string', default: '60' },
      troubles: { type: 'boolean', default: false },
      end: { type: 'boolean', default: false },
    },
  })
  const pace = Number(values.pace)
  if (!(pace >= 1 && pace <= FASTEST)) throw new Error(`--pace wants a number from 1 to ${FASTEST}; it is "${values.pace}".`)
  const { dataDir, rehearsalPort, rehearsalUrl } = readConfig()
  const stamp = new Date().toISOString().replaceAll(/[:.]/g, '-')
  const folder = join(dataDir, 'rehearsals')
  const copy = join(folder, `${stamp}.copy`)
  const cleanUp = () => rmSync(copy, { recursive: true, force: true })
  try {
    const hold = enterFolder(dataDir, 'reads', 'a rehearsal that copies the house', say)
    await copyForRehearsal(dataDir, copy, Date.now()).finally(() => hold.release())
    const begins = beginsAt(copy, Date.now())
    if (begins === null) throw new Error('No closing is still to come, so there is no day to rehearse. Plan closings first.')
    await play({
      copy,
      begins,
      pace,
      port: rehearsalPort,
      url: rehearsalUrl,
      hasTroubles: values.troubles,
      endsItself: values.end,
      reportFile: join(folder, `${stamp}.json`),
    })
  } finally {
    cleanUp()
  }
}

interface Play {
  copy: string
  begins: number
  pace: number
  port: number
  url: string
  hasTroubles: boolean
  endsItself: boolean
  reportFile: string
}

/** Resolves when it was stopped. */
function play({ copy, begins, pace, port, url, hasTroubles, endsItself, reportFile }: Play): Promise<void> {
  const key = randomBytes(18).toString('base64url')
  // What the next process begins with: the clock itself is the one of the process that plays.
  let at = begins
  let running = pace
  const { zone, staff } = castOf(copy)
  return new Promise((resolve, reject) => {
    let child: ChildProcess | null = null
    let isStopping = false
    let isOpen = false
    const stop = () => {
      if (isStopping) return
      isStopping = true
      if (child) child.kill('SIGTERM')
      else resolve()
    }
    const start = () => {
      child = spawn(process.execPath, [join(process.cwd(), 'dist', 'rehearsal-house.mjs')], {
        stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
        env: {
          ...process.env,
          NODE_ENV: 'production',
          DATA_DIR: copy,
          PORT: String(port),
          PUBLIC_URL: url,
          LOG_LEVEL: process.env.LOG_LEVEL ?? 'warn',
          REHEARSAL_BEGINS: String(at),
          REHEARSAL_PACE: String(running),
          REHEARSAL_KEY: key,
          REHEARSAL_TROUBLES: hasTroubles ? '1' : '0',
        },
      })
      child.on('message', hear)
      child.on('exit', (code, signal) => {
        child = null
        if (isStopping) resolve()
        else if (signal !== 'SIGKILL')
          reject(new Error(`The rehearsal ended by itself${code ? ` (code ${code})` : ''}. What it said is above.`))
      })
    }
    const hear = (raw: unknown) => {
      const message = raw as FromHouse
      if (message.tell === 'open' && !isOpen) {
        isOpen = true
        say(`\nThe rehearsal runs ${pace} times as fast, beside the house and touching nothing of it. ${waysIn(staff, { url, key })}`)
        tell({ tell: 'open', url, key })
      }
      if (message.tell === 'pace') running = message.pace
      if (message.tell === 'kill') {
        child?.kill('SIGKILL')
        // However long the next one takes to stand, it was away for as long as was said.
        at = message.at + AWAY_MS
        setTimeout(() => !isStopping && start(), AWAY_MS / running)
      }
      if (message.tell === 'over') {
        writeFileSync(reportFile, `${JSON.stringify(message.report, null, 2)}\n`, { mode: 0o600 })
        say(reportLines(message.report, (at) => showClock(at, zone)).join('\n'))
        tell({ tell: 'over', report: message.report })
        if (endsItself) stop()
      }
    }
    process.once('SIGTERM', stop)
    process.once('SIGINT', stop)
    if (process.send) process.once('disconnect', stop)
    start()
  })
}

/** In which zone the day is, and who of the house may step into it. */
function castOf(dir: string): { zone: string; staff: { personId: string; name: string; role: string }[] } {
  const handle = new Database(join(dir, 'tagstrip.db'), { readonly: true })
  try {
    return {
      zone: String(handle.prepare('SELECT zone FROM campaign').pluck().get()),
      staff: handle.prepare('SELECT id AS personId, name, role FROM person ORDER BY name').all() as ReturnType<typeof castOf>['staff'],
    }
  } finally {
    handle.close()
  }
}

if (!existsSync(join(process.cwd(), 'dist', 'rehearsal-house.mjs'))) {
  say('The house is not built yet: npm run build')
  process.exit(1)
}
main().then(
  () => process.exit(0),
  (reason: unknown) => {
    const words = reason instanceof Error ? reason.message : String(reason)
    tell({ tell: 'failed', words })
    if (isOfTheHouse) sayFatal(words)
    else process.stderr.write(`${words}\n`)
    process.exit(1)
  },
)
