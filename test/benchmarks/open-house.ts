import { spawn } from 'node:child_process'
import { mkdtempSync } from 'node:fs'
import { Agent, request } from 'node:http'
import { dirname, join } from 'node:path'
import { createInterface } from 'node:readline'
import Database from 'better-sqlite3'
import { build } from 'esbuild'

const ROOT = join(import.meta.dirname, '..', '..')

export interface Answer {
  status: number
  /** Of a bid that was taken: the how-manieth of its lot it is. */
  nth: number | null
  /** Milliseconds from asking to the whole answer. */
  waited: number
}

/** Starts the house in a process of its own, under another program when one is named, and gives a hand that bids over HTTP. */
export async function openBenchHouse(bidders: number, under: readonly string[] = []) {
  const outfile = join(ROOT, 'dist', 'bench-house.mjs')
  await build({
    entryPoints: [join(import.meta.dirname, 'house-process.ts')],
    outfile,
    bundle: true,
    packages: 'external',
    platform: 'node',
    target: 'node20',
    format: 'esm',
    logLevel: 'warning',
    // The stage finds the migrations beside its own source.
    define: { 'import.meta.dirname': JSON.stringify(join(ROOT, 'test')) },
  })
  const [program = '', ...args] = [...under, process.execPath, outfile, String(bidders)]
  const child = spawn(program, args, {
    cwd: ROOT,
    stdio: ['pipe', 'pipe', 'inherit'],
  })
  const lines = createInterface({ input: child.stdout })[Symbol.asyncIterator]()
  const hear = async <T>() => JSON.parse((await lines.next()).value ?? 'null') as T
  const { url, lots, cookies, dir } = await hear<{ url: string; lots: number[]; cookies: string[]; dir: string }>()
  const agent = new Agent({ keepAlive: true, maxSockets: bidders })
  let amount = 100
  /** What each browser was given at its first bid, as browsers keep it. */
  const kept = new Map<string, string>()

  const bid = (cookie: string, lot: number): Promise<Answer> =>
    new Promise((resolve, reject) => {
      amount += 5_000
      const body = JSON.stringify({ lot, key: `bench-${String(amount).padStart(16, '0')}`, maximum: String(amount) })
      const headers = {
        'content-type': 'application/json',
        origin: 'https://bench.example',
        cookie: [cookie, ...(kept.has(cookie) ? [kept.get(cookie)] : [])].join('; '),
        'content-length': Buffer.byteLength(body),
      }
      const sent = performance.now()
      const asked = request(`${url}/api/trpc/bidding.place`, { method: 'POST', agent, headers }, (answer) => {
        const [given] = answer.headers['set-cookie'] ?? []
        if (given) kept.set(cookie, given.split(';')[0] ?? '')
        let text = ''
        answer.setEncoding('utf8')
        answer.on('data', (part: string) => {
          text += part
        })
        answer.on('end', () => {
          const nth = /"leaf":\{[^}]*?"sequence":(\d+)/.exec(text)?.[1]
          resolve({
            status: answer.statusCode ?? 0,
            nth: nth === undefined ? null : Number(nth),
            waited: performance.now() - sent,
          })
        })
      })
      asked.on('error', reject).end(body)
    })

  return {
    url,
    dir,
    lots,
    cookies,
    pid: child.pid ?? 0,
    bid,
    async state() {
      child.stdin.write('state\n')
      return hear<{ residentBytes: number; watching: number; cpu: { user: number; system: number } }>()
    },
    /** A folder with a copy of the database as it is now. */
    async copyOfData() {
      const copy = mkdtempSync(join(dirname(dir), 'tagstrip-bare-'))
      const handle = new Database(join(dir, 'tagstrip.db'), { readonly: true })
      await handle.backup(join(copy, 'tagstrip.db'))
      handle.close()
      return copy
    },
    async close() {
      agent.destroy()
      child.stdin.end()
      await new Promise((resolve) => child.once('exit', resolve))
    },
  }
}

export const print = (words: string) => process.stdout.write(`${words}\n`)

/** The value that this share of the figures does not pass. */
export function quantile(figures: readonly number[], share: number): number {
  const sorted = [...figures].sort((a, b) => a - b)
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? 0
}
