import { spawn } from 'node:child_process'
import { readFileSync, rmSync } from 'node:fs'
import { basename } from 'node:path'
import type { Served } from './served'
import { pause } from './trial'

/** What a program asks of the system by which something on the disk changes. */
const CHANGING = 'pwrite64,fsync,fdatasync,ftruncate,rename,unlink,rmdir,mkdir,copy_file_range'

export type Fault = 'killed' | 'failed once' | 'failed always'
export const FAULTS: readonly Fault[] = ['killed', 'failed once', 'failed always']

/** A step by its name, and the how-manieth of its kind in its thread it is. */
export interface Step {
  name: string
  call: string
  nth: number
}

/** A name that is the same in every run: folders and stamps are left out. */
const nameOf = (call: string, path: string): string =>
  `${call} ${basename(path)
    .replaceAll(/\d{4}-\d\d-\d\dT[\dZ-]+/g, '…')
    .replaceAll(/[0-9a-f]{16,}/g, '…')
    .replaceAll(/\d+/g, 'n')}`

/** The steps of a trace, each name once, where it came first. */
export function stepsOf(trace: string, within: string): Step[] {
  const counts = new Map<string, number>()
  const steps = new Map<string, Step>()
  for (const line of trace.split('\n')) {
    const [, thread = '', call = '', words = ''] = /^(\d+)\s+(\w+)\((.*)$/.exec(line) ?? []
    if (call === '' || line.includes('resumed>')) continue
    const count = (counts.get(`${thread} ${call}`) ?? 0) + 1
    counts.set(`${thread} ${call}`, count)
    const path = /<([^>]+)>/.exec(words)?.[1] ?? /"([^"]+)"/.exec(words)?.[1] ?? ''
    if (!path.includes(within)) continue
    const name = nameOf(call, path)
    if (!steps.has(name)) steps.set(name, { name, call, nth: count })
  }
  return [...steps.values()]
}

const injected = ({ call, nth }: Step, fault: Fault): string =>
  `inject=${call}:${fault === 'killed' ? `signal=SIGKILL:when=${nth}` : `error=EIO:when=${nth}${fault === 'failed always' ? '+' : ''}`}`

const traced = (file: string, at: { step: Step; fault: Fault } | null): string[] => [
  ...['-f', '-y', '-s', '200', '-e', `trace=${CHANGING}`, '-o', file],
  ...(at ? ['-e', injected(at.step, at.fault)] : []),
]

/** Runs a command of the house, with a fault at one of its steps or none, and gives the trace and how it ended. */
export async function runTraced(
  file: string,
  command: readonly string[],
  env: Readonly<Record<string, string>>,
  at: { step: Step; fault: Fault } | null,
): Promise<{ trace: string; code: number | null; said: string }> {
  const child = spawn('strace', [...traced(file, at), process.execPath, ...command], {
    env: { PATH: process.env.PATH, HOME: process.env.HOME, NODE_ENV: 'production', ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  let said = ''
  for (const stream of [child.stdout, child.stderr])
    stream.on('data', (part: Buffer) => {
      said += part.toString()
    })
  const code = await new Promise<number | null>((resolve) => child.once('close', resolve))
  const trace = readFileSync(file, 'utf8')
  rmSync(file)
  return { trace, code, said }
}

/** The same for a house that is open: what it does from now on is traced until this is told to end. */
export async function traceServed(file: string, { pid }: Served, at: { step: Step; fault: Fault } | null) {
  const strace = spawn('strace', [...traced(file, at), '-p', String(pid)], { stdio: ['ignore', 'ignore', 'pipe'] })
  const ended = new Promise((resolve) => strace.once('exit', resolve))
  await Promise.race([new Promise((resolve) => strace.stderr.once('data', resolve)), ended])
  await pause(50)
  return async (): Promise<string> => {
    strace.kill('SIGINT')
    await ended
    return readFileSync(file, 'utf8')
  }
}
