import { type ChildProcess, spawn } from 'node:child_process'
import { cpSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { createInterface } from 'node:readline'
import Database from 'better-sqlite3'
import { build } from 'esbuild'
import { HOUR } from '#kernel/instant'
import { openStageDoor } from '#test/doors/web/open-door'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { openStage } from '#test/stage'

const ROOT = join(import.meta.dirname, '..', '..')
export const PUBLIC_URL = 'https://bench.example'

/** Bundles the process of one machine. */
export async function buildMachine(dist: string): Promise<string> {
  const outfile = join(dist, 'standby-house.mjs')
  await build({
    entryPoints: [join(import.meta.dirname, 'standby-house.ts')],
    outfile,
    bundle: true,
    packages: 'external',
    platform: 'node',
    target: 'node20',
    format: 'esm',
    logLevel: 'warning',
  })
  return outfile
}

export interface Sale {
  lots: number[]
  cookies: string[]
}

/** A house with open lots and bidders who are signed in, closed again. */
export async function makeSale(dir: string, wishes: { lots: number; bidders: number }): Promise<Sale> {
  const stage = openStage({ now: Date.now(), dir, publicUrl: PUBLIC_URL })
  const lots: number[] = []
  for (let n = 1; n <= wishes.lots; n++) lots.push((await makeOpenLot(stage, { tag: `TERN-0${n}`, closesIn: 20 * HOUR })).number)
  const door = await openStageDoor(stage)
  const cookies: string[] = []
  for (let n = 0; n < wishes.bidders; n++) {
    const letters = [Math.floor(n / 676), Math.floor(n / 26) % 26, n % 26].map((at) => String.fromCharCode(97 + at)).join('')
    const { actor } = await makeBidder(stage, `Bidder ${letters}`)
    cookies.push(await door.sessionOf(actor.personId))
  }
  await stage.command(({ db }) => db.run('UPDATE paddle SET ceiling_minor = 100000000000'))
  door.close()
  stage.house.close()
  return { lots, cookies }
}

interface Line {
  open?: number
  said?: string
  ended?: string
  failed?: string
  isAlone?: boolean
  trouble?: string | null
}

/** One machine: a process with a folder and a port of its own. */
export class OneMachine {
  child: ChildProcess
  readonly said: Line[] = []
  exit: { code: number | null; signal: NodeJS.Signals | null } | null = null
  private wake: (() => void)[] = []

  constructor(
    readonly dir: string,
    readonly port: number,
    program: string,
    role: 'writer' | 'standby',
    urls: readonly string[],
    { wrongBy = 0, flags = [] as string[], env = {} as Record<string, string> } = {},
  ) {
    this.child = spawn(process.execPath, [program, role, String(wrongBy), ...flags], {
      cwd: ROOT,
      env: { ...process.env, DATA_DIR: dir, PORT: String(port), PUBLIC_URL, NATS_URL: urls.join(','), LOG_LEVEL: 'silent', ...env },
      stdio: ['pipe', 'pipe', 'inherit'],
    })
    this.child.once('exit', (code, signal) => {
      this.exit = { code, signal }
      this.rouse()
    })
    if (this.child.stdout)
      createInterface({ input: this.child.stdout }).on('line', (line) => {
        this.said.push(JSON.parse(line) as Line)
        this.rouse()
      })
  }

  private rouse(): void {
    const all = this.wake
    this.wake = []
    for (const one of all) one()
  }

  /** Waits until it has said something, from what it has said so far on. */
  async hear<T>(find: (line: Line) => T | undefined, mostMs = 90_000): Promise<T> {
    const until = Date.now() + mostMs
    for (;;) {
      for (const line of this.said) {
        const found = find(line)
        if (found !== undefined) return found
      }
      if (this.exit || Date.now() > until)
        throw new Error(`it did not say so: ${JSON.stringify({ said: this.said.slice(-5), exit: this.exit })}`)
      await new Promise<void>((resolve) => {
        this.wake.push(resolve)
        setTimeout(resolve, 200)
      })
    }
  }

  /** What it says of itself when it is asked; null when it does not answer. */
  async ask(): Promise<Line | null> {
    const before = this.said.length
    this.child.stdin?.write('?\n')
    const until = Date.now() + 5_000
    while (!this.exit && Date.now() < until) {
      const answer = this.said.slice(before).find(({ isAlone }) => isAlone !== undefined)
      if (answer) return answer
      await new Promise((resolve) => setTimeout(resolve, 20))
    }
    return null
  }

  isOpen = () => this.hear(({ open }) => open)
  stands = () => this.hear(({ said }) => (said?.startsWith('Standing by') ? true : undefined))

  async gone(mostMs = 20_000): Promise<number | null> {
    const until = Date.now() + mostMs
    while (!this.exit) {
      if (Date.now() > until) throw new Error(`it did not end: ${JSON.stringify({ said: this.said, answers: await this.ask() })}`)
      await new Promise((resolve) => setTimeout(resolve, 50))
    }
    return this.exit.code
  }

  async kill(): Promise<void> {
    if (this.exit) return
    this.child.kill('SIGKILL')
    await this.gone()
  }
}

/** What `npm run backup` and `npm run restore` do between two machines, in short. */
export function copyHouse(from: string, to: string): void {
  rmSync(to, { recursive: true, force: true })
  mkdirSync(to, { recursive: true, mode: 0o700 })
  const handle = new Database(join(from, 'tagstrip.db'))
  try {
    // One reading, however much is written meanwhile.
    handle.prepare('VACUUM INTO ?').run(join(to, 'tagstrip.db'))
  } finally {
    handle.close()
  }
  cpSync(join(from, 'keys'), join(to, 'keys'), { recursive: true })
}

export const someFolder = () => mkdtempSync(join(tmpdir(), 'tagstrip-machine-'))

export interface Bid {
  key: string
  lot: number
  nth: number
  size: number
  checkpoint: string
  /** Which machine answered. */
  port: number
}

/** Bids over HTTP at whichever machine answers, and keeps a record of its own of each bid that was acknowledged. */
export class Bidders {
  readonly taken: Bid[] = []
  /** Sent, and never answered: each may or may not count. */
  unanswered = 0
  refused = new Map<number, number>()
  /** The last refusals and failures of each machine, in words. */
  private readonly words = new Map<number, string[]>()
  waits: number[] = []
  firstAfter: { since: number; took: number | null } | null = null
  private isOn = false
  private going: Promise<void>[] = []
  private amount = 100

  constructor(
    readonly sale: Sale,
    readonly ports: () => readonly number[],
    readonly tag: string,
    readonly pauseMs = 0,
  ) {}

  start(): void {
    this.isOn = true
    this.going = this.sale.cookies.map((cookie, index) => this.go(cookie, index))
  }

  async stop(): Promise<void> {
    this.isOn = false
    await Promise.all(this.going)
  }

  private async go(cookie: string, index: number): Promise<void> {
    let jar = cookie
    for (let n = 0; this.isOn; n++) {
      const lot = this.sale.lots[(n + index) % this.sale.lots.length] ?? 1
      this.amount += 500
      const key = `${this.tag}-${String(this.amount).padStart(14, '0')}`
      const body = JSON.stringify({ lot, key, maximum: String(this.amount) })
      const began = performance.now()
      let heard = false
      for (const port of this.ports()) {
        try {
          const answer = await fetch(`http://127.0.0.1:${port}/api/trpc/bidding.place`, {
            method: 'POST',
            headers: {
              'content-type': 'application/json',
              origin: PUBLIC_URL,
              cookie: jar,
              'x-forwarded-for': `10.0.${Math.floor(index / 250)}.${index % 250}`,
            },
            body,
            signal: AbortSignal.timeout(8_000),
          })
          const [given] = answer.headers.getSetCookie()
          if (given && jar === cookie) jar = `${cookie}; ${given.split(';')[0]}`
          const text = await answer.text()
          heard = true
          if (answer.status === 200) {
            this.note(key, lot, text, port)
            this.waits.push(performance.now() - began)
            break
          }
          this.refused.set(answer.status, (this.refused.get(answer.status) ?? 0) + 1)
          this.remember(port, `${answer.status}: ${/"message":"((?:[^"\\]|\\.)*)"/.exec(text)?.[1] ?? text}`)
          if (answer.status !== 503) break
        } catch (reason) {
          // It is gone, or was when this came.
          this.remember(port, String(reason))
        }
      }
      if (!heard) {
        this.unanswered += 1
        await new Promise((resolve) => setTimeout(resolve, 50))
      }
      if (this.pauseMs > 0) await new Promise((resolve) => setTimeout(resolve, this.pauseMs * (0.5 + Math.random())))
    }
  }

  private remember(port: number, words: string): void {
    this.words.set(port, [...(this.words.get(port) ?? []).slice(-4), words])
  }

  /** What a machine answered last to those who were refused. */
  lastWords = (port: number): readonly string[] => this.words.get(port) ?? []

  private note(key: string, lot: number, text: string, port: number): void {
    const data = (JSON.parse(text) as { result: { data: { receipt?: { checkpoint: string; size?: number } } & Record<string, unknown> } })
      .result.data
    const nth = Number(/"leaf":\{[^}]*?"sequence":(\d+)/.exec(text)?.[1])
    const checkpoint = /"checkpoint":"((?:[^"\\]|\\.)*)"/.exec(text)?.[1] ?? ''
    const size = Number(checkpoint.split('\\n')[1])
    if (data === undefined || Number.isNaN(nth)) throw new Error(`an answer that is none: ${text}`)
    this.taken.push({ key, lot, nth, size, checkpoint: JSON.parse(`"${checkpoint}"`) as string, port })
    // What was under way at the machine that is gone may still have been answered by it.
    if (this.firstAfter?.took === null && this.ports().includes(port)) this.firstAfter.took = performance.now() - this.firstAfter.since
  }
}

/** Up to which message of the stream a folder is. */
export function numberIn(dir: string): number {
  const handle = new Database(join(dir, 'tagstrip.db'), { readonly: true })
  try {
    return Number(handle.prepare('SELECT number FROM published_group').pluck().get())
  } finally {
    handle.close()
  }
}

/** How the lots of a folder stand. */
export function lotsIn(dir: string): unknown[] {
  const handle = new Database(join(dir, 'tagstrip.db'), { readonly: true })
  try {
    return handle
      .prepare('SELECT number, state, sequence, standing_minor AS standing, closes_at AS closesAt FROM lot ORDER BY number')
      .all()
  } finally {
    handle.close()
  }
}

/** Compares what was acknowledged with what a folder holds. Answers each lie in words. */
export function liesIn(dir: string, taken: readonly Bid[]): string[] {
  const handle = new Database(join(dir, 'tagstrip.db'), { readonly: true })
  try {
    const lies: string[] = []
    const lots = new Map(
      (handle.prepare('SELECT id, number FROM lot').all() as { id: string; number: number }[]).map(({ id, number }) => [number, id]),
    )
    const bid = handle.prepare('SELECT lot_id AS lot, sequence FROM bid WHERE id = ?')
    const head = handle.prepare('SELECT checkpoint FROM ledger_head WHERE lot_id = ? AND size = ?').pluck()
    const seen = new Map<string, string>()
    for (const one of taken) {
      const kept = bid.get(one.key) as { lot: string; sequence: number } | undefined
      if (!kept) lies.push(`the bid ${one.key} was acknowledged at ${one.port} and is gone`)
      else if (kept.lot !== lots.get(one.lot) || kept.sequence !== one.nth) lies.push(`the bid ${one.key} was answered as another one`)
      if (head.get(lots.get(one.lot), one.size) !== one.checkpoint) lies.push(`the head that was signed for ${one.key} is another now`)
      const place = `${one.lot} ${one.nth}`
      if (seen.has(place)) lies.push(`${one.key} and ${seen.get(place)} were both answered as bid ${place}`)
      seen.set(place, one.key)
    }
    const ends = handle
      .prepare(
        "SELECT lot_id, count(*) AS ends FROM ledger_leaf WHERE json_extract(body, '$.kind') IN ('closed', 'withdrawn') GROUP BY lot_id",
      )
      .all() as { lot_id: string; ends: number }[]
    for (const { lot_id, ends: count } of ends) if (count > 1) lies.push(`the lot ${lot_id} has ${count} ends`)
    return lies
  } finally {
    handle.close()
  }
}
