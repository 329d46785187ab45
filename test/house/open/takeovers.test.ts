import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { standBy } from '#house/open/stand-by'
import { readConfig } from '#runtime/settings/config'
import { openLog } from '#runtime/settings/log'
import { type Line, openLine } from '#test/make/line'
import { type NatsCluster, openNatsServers } from '#test/make/nats'
import { freePort, NATS_SERVER } from '#test/make/neighbour'
import {
  Bidders,
  buildMachine,
  copyHouse,
  liesIn,
  lotsIn,
  makeSale,
  numberIn,
  OneMachine,
  PUBLIC_URL,
  type Sale,
  someFolder,
} from '#test/make/two-machines'

// One machine after the other is killed, stopped for a while or cut off in the middle of bids, while another stands by. Whoever bids
// keeps a record of what was acknowledged. `npm run takeovers` does it a thousand times over, in every way, on three servers of NATS;
// TAKEOVER_WAYS=two,cut tries only these.
const TIMES = Number(process.env.TAKEOVERS ?? 1)
const MINUTES = Number(process.env.TAKEOVER_MINUTES ?? 600)
const SEED = Number(process.env.SEED ?? 1)
/** So many, and so long between two bids of each, that none bids too often: a machine whose clock is behind lets time stand for a while. */
const BIDDERS = 48
const PAUSE_MS = 2_500
/** Nobody has to wait for longer than this until a bid is taken again, on however slow a machine. */
const PATIENCE_MS = 120_000

const ROOT = join(import.meta.dirname, '..', '..', '..')
const dist = mkdtempSync(join(ROOT, 'node_modules', '.machines-'))
const folders: string[] = []
const running = new Set<Machine>()
let servers: NatsCluster | null = null
let program = ''

beforeAll(async () => {
  if (NATS_SERVER === null) return
  program = await buildMachine(dist)
  servers = await openNatsServers(TIMES > 10 || ways.includes('server') ? 3 : 1)
}, 60_000)

afterAll(async () => {
  for (const { process, lines } of running) {
    await process.kill()
    for (const line of lines) line.close()
  }
  await servers?.stop()
  for (const folder of [dist, ...folders]) rmSync(folder, { recursive: true, force: true })
})

interface Machine {
  process: OneMachine
  /** Its lines to the servers, which can be cut. */
  lines: Line[]
}

const folder = () => {
  const made = someFolder()
  folders.push(made)
  return made
}

async function machine(dir: string, role: 'writer' | 'standby', wrongBy = 0, flags: string[] = []): Promise<Machine> {
  const lines = await Promise.all((servers?.ports ?? []).map(openLine))
  const urls = lines.map(({ port }) => `nats://127.0.0.1:${port}`)
  const made = { lines, process: new OneMachine(dir, await freePort(), program, role, urls, { wrongBy, flags }) }
  running.add(made)
  return made
}

async function end(one: Machine): Promise<void> {
  await one.process.kill()
  for (const line of one.lines) line.close()
  running.delete(one)
}

/** Why a folder cannot stand by, in words. */
async function whyNot(dir: string): Promise<string> {
  const NATS_URL = servers?.urls.join(',') ?? ''
  const refused = standBy({
    config: readConfig({ DATA_DIR: dir, PUBLIC_URL, NATS_URL }),
    migrationsDir: join(ROOT, 'db', 'migrations'),
    log: openLog('silent'),
    say: () => {},
    ended: () => {},
    fetchCopy: async () => {},
    goOn: async () => 'it goes on',
  })
  return refused.catch((reason: Error) => reason.message)
}

/** Figures that are the same again for the same seed. */
function chanceFrom(seed: number): () => number {
  let at = seed
  return () => {
    at = (at + 0x6d2b79f5) | 0
    let n = Math.imul(at ^ (at >>> 15), 1 | at)
    n = (n + Math.imul(n ^ (n >>> 7), 61 | n)) ^ n
    return ((n ^ (n >>> 14)) >>> 0) / 4294967296
  }
}

/**
 * What becomes of the one that writes: killed, stopped for a while, cut off from NATS, killed beside two that stand by, closed; killed
 * together with one of three servers of NATS; cut off one way, so that it is not heard, or does not hear; held up on every line, so that
 * what it sent comes late and all at once.
 */
const WAYS = ['kill', 'stop', 'cut', 'two', 'end', 'server', 'unheard', 'deaf', 'late'] as const
type Way = (typeof WAYS)[number]
const wished = WAYS.filter((way) => process.env.TAKEOVER_WAYS?.split(',').includes(way))
const ways: readonly Way[] = wished.length > 0 ? wished : TIMES > 10 ? WAYS : ['two', 'stop', 'cut']
/** It lives on, and has to notice by itself that it is no longer the one that writes. */
const LIVES_ON: readonly Way[] = ['stop', 'cut', 'unheard', 'deaf', 'late']
const wait = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms))
const quantile = (figures: readonly number[], share: number) =>
  [...figures].sort((a, b) => a - b)[Math.min(figures.length - 1, Math.floor(figures.length * share))] ?? 0

/** What is tried, on one sale after the other, and what came of it. */
class Trial {
  readonly took: number[] = []
  readonly done = new Map<Way, number>()
  private writer: Machine | null = null
  private spare = folder()
  private third = folder()
  private readonly bidders: Bidders
  private readonly chance = chanceFrom(SEED)
  private ports: number[] = []

  constructor(
    readonly sale: Sale,
    readonly first: string,
  ) {
    this.bidders = new Bidders(sale, () => this.ports, `s${SEED}`, PAUSE_MS)
  }

  get acknowledged(): number {
    return this.bidders.taken.length
  }

  async begin(): Promise<void> {
    this.writer = await machine(this.first, 'writer')
    await this.writer.process.isOpen()
    this.ports = [this.writer.process.port]
    this.bidders.start()
  }

  /** The clock of a machine may be wrong by some seconds. */
  private wrongBy = () => Math.round((this.chance() - 0.5) * 20_000)

  private async standby(dir: string, of: Machine): Promise<Machine> {
    copyHouse(of.process.dir, dir)
    const one = await machine(dir, 'standby', this.wrongBy())
    await one.process.stands()
    return one
  }

  async once(way: Way): Promise<void> {
    const { writer } = this
    if (!writer) throw new Error('nobody writes')
    const standbys = [await this.standby(this.spare, writer)]
    if (way === 'two') standbys.push(await this.standby(this.third, writer))
    // On a machine that is slow a lease may pass without anybody's doing: whoever bids asks all of them.
    this.ports = [writer, ...standbys].map(({ process }) => process.port)
    const before = this.acknowledged
    const until = performance.now() + PATIENCE_MS
    while (this.acknowledged === before) {
      if (performance.now() > until) await this.tellNobodyTaken(`before ${way}`, [writer, ...standbys])
      await wait(20)
    }
    await wait(this.chance() * 300)
    // Whoever does not know yet goes on asking the machine that is gone.
    const stubborn = new Bidders(
      { ...this.sale, cookies: this.sale.cookies.slice(0, 3) },
      () => [writer.process.port],
      `o${SEED}-${before}`,
      60,
    )
    stubborn.start()
    const gone = performance.now()
    const server = way === 'server' ? Math.floor(this.chance() * 3) : null
    if (server !== null) await servers?.kill(server)
    if (way === 'kill' || way === 'two' || way === 'server') await writer.process.kill()
    if (way === 'end') writer.process.child.kill('SIGTERM')
    if (way === 'stop') writer.process.child.kill('SIGSTOP')
    for (const line of writer.lines) {
      if (way === 'cut') line.cut()
      if (way === 'unheard') line.cut(['there'])
      if (way === 'deaf') line.cut(['back'])
      if (way === 'late') line.stall()
    }
    this.ports = standbys.map(({ process }) => process.port)
    this.bidders.firstAfter = { since: gone, took: null }
    this.took.push(await this.firstAnswer(way, standbys))
    this.bidders.firstAfter = null
    // What comes back too late must notice by itself, and end with its own number.
    if (way === 'stop') writer.process.child.kill('SIGCONT')
    else if (LIVES_ON.includes(way)) for (const line of writer.lines) line.mend()
    if (LIVES_ON.includes(way)) expect(await writer.process.gone(40_000), `${way}: ${JSON.stringify(writer.process.said)}`).toBe(76)
    if (way === 'end') expect([0, 76]).toContain(await writer.process.gone(40_000))
    await stubborn.stop()
    const next = await this.whoWrites(standbys)
    this.ports = [next.process.port]
    const lies = liesIn(next.process.dir, [...this.bidders.taken, ...stubborn.taken])
    const told = JSON.stringify(
      standbys.map(({ process }) => ({ dir: process.dir, port: process.port, number: numberIn(process.dir), said: process.said })),
    )
    expect(lies, `seed ${SEED}, after ${this.took.length} times, ${way}, in ${next.process.dir}: ${told}`).toEqual([])
    this.bidders.taken.push(...stubborn.taken)
    for (const one of standbys) {
      if (one === next) continue
      await end(one)
    }
    if (server !== null) await servers?.start(server)
    await end(writer)
    this.spare = writer.process.dir === this.third ? this.spare : writer.process.dir
    if (next.process.dir === this.third) this.third = standbys[0]?.process.dir ?? this.third
    this.writer = next
    this.done.set(way, (this.done.get(way) ?? 0) + 1)
  }

  /** After how long a bid was taken again; says all that there is to know when none is. */
  private async firstAnswer(way: Way, standbys: readonly Machine[]): Promise<number> {
    const until = performance.now() + PATIENCE_MS
    while (performance.now() < until) {
      const took = this.bidders.firstAfter?.took
      if (typeof took === 'number') return took
      await wait(20)
    }
    return this.tellNobodyTaken(way, standbys)
  }

  /** All that there is to know where no bid is taken. */
  private async tellNobodyTaken(when: string, asked: readonly Machine[]): Promise<never> {
    const machines = await Promise.all(
      asked.map(async ({ process }) => ({
        port: process.port,
        said: process.said,
        exit: process.exit,
        answers: await process.ask(),
        refusals: this.bidders.lastWords(process.port),
        number: numberIn(process.dir),
        lots: lotsIn(process.dir),
      })),
    )
    throw new Error(`no bid was taken ${when}, seed ${SEED}, after ${this.took.length} times: ${JSON.stringify(machines, null, 1)}`)
  }

  /** Of those that have opened, the one that still writes: another has to end as soon as it is told. */
  private async whoWrites(standbys: readonly Machine[]): Promise<Machine> {
    const writing = () =>
      standbys.filter(
        ({ process }) => !process.exit && process.said.some(({ open }) => open !== undefined) && !process.said.some(({ ended }) => ended),
      )
    await expect.poll(() => writing().length, { timeout: 60_000 }).toBe(1)
    const [one] = writing()
    if (!one) throw new Error('nobody writes')
    return one
  }

  async finish(): Promise<string[]> {
    await this.bidders.stop()
    if (this.writer) await end(this.writer)
    return liesIn(this.writer?.process.dir ?? '', this.bidders.taken)
  }
}

describe.skipIf(NATS_SERVER === null)('a second machine stands by', () => {
  test('and goes on when the first is killed, stopped, cut off or closed, with every bid that was acknowledged', {
    timeout: Math.max(240_000, MINUTES * 60_000 + 240_000),
  }, async () => {
    const first = folder()
    const trial = new Trial(await makeSale(first, { lots: 3, bidders: BIDDERS }), first)
    await trial.begin()
    const until = performance.now() + MINUTES * 60_000
    for (let n = 0; n < TIMES && performance.now() < until; n++) {
      await trial.once(ways[n % ways.length] ?? 'kill')
      if (TIMES > 10)
        process.stdout.write(
          `${n + 1} times (${[...trial.done].map(([way, times]) => `${way} ${times}`).join(', ')}), ${trial.acknowledged} bids acknowledged, none lost; first answer after ${Math.round(quantile(trial.took, 0.5))} ms (half), ${Math.round(quantile(trial.took, 0.99))} ms (99 %)\n`,
        )
    }
    expect(await trial.finish()).toEqual([])
    expect(trial.acknowledged).toBeGreaterThan(TIMES)
  })

  test('a machine that was stopped ends by itself, and its folder does not open again; a copy that cannot follow is told why', {
    timeout: 240_000,
  }, async () => {
    const [dir, other, third] = [folder(), folder(), folder()]
    await makeSale(dir, { lots: 1, bidders: 1 })
    expect(await whyNot(folder())).toContain('There is no copy of the house in')
    copyHouse(dir, other)
    expect(await whyNot(other)).toContain('made before the house had NATS_URL set')
    const one = await machine(dir, 'writer')
    await one.process.isOpen()
    expect(await whyNot(dir)).toContain('is in use')
    copyHouse(dir, other)
    const handle = new Database(join(other, 'tagstrip.db'))
    handle.prepare("UPDATE migration SET name = '0000-of-another-version.sql' WHERE name = (SELECT max(name) FROM migration)").run()
    handle.close()
    expect(await whyNot(other)).toContain('of another version than this program')

    one.process.child.kill('SIGSTOP')
    copyHouse(dir, other)
    copyHouse(dir, third)
    const left = numberIn(dir)
    const two = await machine(other, 'writer')
    await two.process.isOpen()
    one.process.child.kill('SIGCONT')
    expect(await one.process.gone(40_000)).toBe(76)
    const again = await machine(dir, 'writer')
    expect(await again.process.hear(({ failed }) => failed)).toContain('Another machine writes for this house')
    // Messages that only say who opened are read over: it has to have done something.
    await expect.poll(() => numberIn(other), { timeout: 60_000 }).toBeGreaterThan(left + 1)
    await end(two)
    const late = await machine(dir, 'writer')
    expect(await late.process.hear(({ failed }) => failed)).toContain('Another machine has written for this house since')
    const asStandby = await machine(third, 'standby')
    await asStandby.process.isOpen()
    await end(asStandby)

    // Where it was put back on purpose, somebody says so.
    const anew = await machine(other, 'writer', 0, ['begin-anew'])
    await anew.process.isOpen()
  })

  test('a house that reaches nobody says so, goes on alone only when told to, and sends what the others miss', {
    timeout: 300_000,
  }, async () => {
    const [dir, other] = [folder(), folder()]
    const sale = await makeSale(dir, { lots: 1, bidders: 4 })
    const one = await machine(dir, 'writer')
    await one.process.isOpen()
    copyHouse(dir, other)
    for (const line of one.lines) line.cut()
    const bidders = new Bidders(sale, () => [one.process.port], 'cut-off', 50)
    bidders.start()
    await expect.poll(() => bidders.refused.get(503) ?? 0, { timeout: 60_000 }).toBeGreaterThan(2)
    const health = await fetch(`http://127.0.0.1:${one.process.port}/api/health`)
    expect(JSON.stringify(await health.json())).toContain('The servers that hold what is new besides this house are not reached')
    await bidders.stop()
    one.process.child.kill('SIGTERM')
    expect(await one.process.gone()).toBe(0)
    for (const line of one.lines) line.close()

    // Its servers are out of reach still.
    const urls = [`nats://127.0.0.1:${await freePort()}`]
    const asked = new OneMachine(dir, await freePort(), program, 'writer', urls)
    running.add({ process: asked, lines: [] })
    expect(await asked.hear(({ failed }) => failed)).toContain('No NATS server was reached at')
    const port = servers?.ports[0] ?? 0
    const line = await openLine(port)
    line.cut()
    const alone = new OneMachine(dir, await freePort(), program, 'writer', [`nats://127.0.0.1:${line.port}`], { flags: ['alone'] })
    running.add({ process: alone, lines: [line] })
    await alone.isOpen()
    const onTheirOwn = new Bidders(sale, () => [alone.port], 'alone', 50)
    onTheirOwn.start()
    await expect.poll(() => onTheirOwn.taken.length, { timeout: 60_000 }).toBeGreaterThan(10)
    const askWhetherAlone = async () => {
      const before = alone.said.length
      alone.child.stdin?.write('?\n')
      await expect.poll(() => alone.said.length, { timeout: 5_000 }).toBeGreaterThan(before)
      return alone.said.at(-1)?.isAlone
    }
    expect(await askWhetherAlone()).toBe(true)
    line.mend()
    await expect.poll(askWhetherAlone, { timeout: 90_000, interval: 300 }).toBe(false)

    // Whoever stands by from the copy of before has all of it.
    const second = await machine(other, 'standby')
    await second.process.stands()
    await onTheirOwn.stop()
    await alone.kill()
    await second.process.isOpen()
    expect(liesIn(other, [...bidders.taken, ...onTheirOwn.taken])).toEqual([])
  })
  test('a machine that has no copy of the house fetches the one that is kept elsewhere, and goes on with it', {
    timeout: 180_000,
  }, async () => {
    const [dir, other, place] = [folder(), join(folder(), 'house'), folder()]
    const sale = await makeSale(dir, { lots: 1, bidders: 4 })
    const env = { COPY_TO: place, COPY_PASSPHRASE: 'five small boats at anchor' }
    const start = async (role: 'writer' | 'standby', dataDir: string, more: Record<string, string>) => {
      const one = new OneMachine(dataDir, await freePort(), program, role, servers?.urls ?? [], { env: more })
      running.add({ process: one, lines: [] })
      return one
    }
    const writer = await start('writer', dir, env)
    await writer.isOpen()
    const bidders = new Bidders(sale, () => [writer.port], 'copied', 100)
    bidders.start()
    const generation = () => {
      const mark = join(place, 'house.json')
      return existsSync(mark) ? (JSON.parse(readFileSync(mark, 'utf8')) as { generation: string | null }).generation : null
    }
    await expect.poll(() => existsSync(join(place, 'keys.age')) && generation(), { timeout: 60_000 }).toBeTruthy()
    const wrong = await start('standby', other, { ...env, COPY_PASSPHRASE: 'five small boats at sea' })
    expect(await wrong.hear(({ failed }) => failed)).toContain('passphrase')
    const standby = await start('standby', other, env)
    expect(await standby.hear(({ said }) => said)).toBe(`There is no copy of the house in ${other}. It is fetched from ${place}.`)
    await standby.stands()
    const before = bidders.taken.length
    await expect.poll(() => bidders.taken.length, { timeout: 60_000 }).toBeGreaterThan(before)
    await writer.kill()
    await bidders.stop()
    await standby.isOpen()
    expect(liesIn(other, bidders.taken)).toEqual([])
  })
})
