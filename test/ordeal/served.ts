import { type ChildProcess, spawn } from 'node:child_process'
import { appendFileSync, openSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { freePort } from '#test/make/neighbour'
import { type Hand, openHand, PUBLIC_URL } from './hand'
import { Lie, pause, type Trial } from './trial'

export const ROOT = process.cwd()
const LONGEST_START_MS = 60_000

export interface ServeWishes {
  /** A program, with its own arguments, under which the house runs. */
  under?: readonly string[]
  env?: Readonly<Record<string, string>>
  args?: readonly string[]
  port?: number
}

export interface Served {
  pid: number
  port: number
  hand: Hand
  child: ChildProcess
  /** Milliseconds from its start to its first answer. */
  openedAfter: number
  /** Ends it as a power cut would. */
  kill(): Promise<void>
  /** Ends it as whoever runs it would. */
  stop(): Promise<void>
  /** Resolves when it has ended, with its code, or null where a signal ended it. */
  ended: Promise<number | null>
  /** What it wrote, of this start and those before. */
  said(): string
}

/** The house as it is served, in a process of its own on a data folder that was furnished. Whatever becomes of the trial, it ends. */
export async function serveHouse(trial: Pick<Trial, 'dir' | 'atEnd'>, dataDir: string, wishes: ServeWishes = {}): Promise<Served> {
  const { under = [], env = {}, args = [], port = await freePort() } = wishes
  const log = join(trial.dir, 'house.log')
  appendFileSync(log, '')
  const began = performance.now()
  const [program = '', ...rest] = [...under, process.execPath, join(ROOT, 'dist', 'server.mjs'), ...args]
  const out = openSync(log, 'a')
  const child = spawn(program, rest, {
    cwd: ROOT,
    stdio: ['ignore', out, out],
    env: {
      PATH: process.env.PATH,
      HOME: process.env.HOME,
      TZ: process.env.TZ,
      NODE_ENV: 'production',
      NEXT_TELEMETRY_DISABLED: '1',
      DATA_DIR: dataDir,
      PORT: String(port),
      HOST: '127.0.0.1',
      PUBLIC_URL,
      TRUSTED_PROXY: 'x-forwarded-for',
      LOG_LEVEL: 'warn',
      ...env,
    },
  })
  let isOver = false
  const ended = new Promise<number | null>((resolve) =>
    child.once('exit', (code) => {
      isOver = true
      resolve(code)
    }),
  )
  const hand = openHand(port)
  const signal = async (name: NodeJS.Signals) => {
    if (!isOver) child.kill(name)
    await ended
    hand.close()
  }
  trial.atEnd(() => signal('SIGKILL'))
  const said = () => readFileSync(log, 'utf8')
  while (!(await hand.ask('/api/now'))) {
    if (isOver) throw new NotOpened(`the house ended instead of opening: ${said().trim().split('\n').slice(-6).join(' / ')}`)
    if (performance.now() - began > LONGEST_START_MS) throw new NotOpened(`the house did not open within a minute: ${said()}`)
    await pause(10)
  }
  return {
    pid: child.pid ?? 0,
    port,
    hand,
    child,
    openedAfter: performance.now() - began,
    kill: () => signal('SIGKILL'),
    stop: () => signal('SIGTERM'),
    ended,
    said,
  }
}

export class NotOpened extends Error {}

/** The same where it is promised that it opens, whatever was done to it before. */
export async function openedOrLie(
  trial: Pick<Trial, 'dir' | 'atEnd'>,
  dataDir: string,
  step: string,
  wishes: ServeWishes = {},
): Promise<Served> {
  try {
    return await serveHouse(trial, dataDir, wishes)
  } catch (reason) {
    if (!(reason instanceof NotOpened)) throw reason
    throw new Lie('the house opens again', reason.message, step)
  }
}
