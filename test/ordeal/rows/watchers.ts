import { readFileSync } from 'node:fs'
import { connect, type Socket } from 'node:net'
import { join } from 'node:path'
import { quantile } from '#test/benchmarks/open-house'
import { furnish } from '../furnish'
import { bidAtRate } from '../load'
import { serveHouse } from '../served'
import { Lie, pause, type Row, type Trial } from '../trial'
import { openWork } from '../work'

const WATCHERS = 5_000
const MINUTES = 30
const BIDS_A_SECOND = 10
const MOST_GROWTH = 1.05
/** What a house takes into memory at first is not growth: pages, statements, code that is compiled when it is warm. */
const WARM_SECONDS = 20
const LONGEST_COMING_MS = 30_000
const LEAST_SECONDS = 120

export const watchers: Row = {
  id: 'R15',
  what: '5,000 watchers while bids come in',
  goal: '30 minutes, memory grows by less than 5 %',
  times: MINUTES * 60,
  unit: 'seconds',
  weight: 1.5,
  run,
}

async function run(trial: Trial): Promise<void> {
  const house = await furnish(join(trial.dir, 'house'), { lots: 4, bidders: 100 })
  const work = openWork(trial, house)
  const { hand, port, pid } = await serveHouse(trial, house.dataDir)
  const sockets: Socket[] = []
  trial.atEnd(() => {
    for (const socket of sockets) socket.destroy()
  })
  let heard = 0
  // All of them read into one page of memory: what measures must not be what takes the time.
  const page = Buffer.alloc(16_384)
  const read = () => {
    heard += 1
    return true
  }
  for (let n = 0; n < WATCHERS; n++) {
    const socket = connect({ port, host: '127.0.0.1', onread: { buffer: page, callback: read } })
    socket.on('error', () => {})
    socket.write(`GET /live?topics=lots,lot:1 HTTP/1.1\r\nHost: bench.example\r\nX-Forwarded-For: 2001:db8:${n.toString(16)}:3::1\r\n\r\n`)
    sockets.push(socket)
    if (n % 100 === 99) await new Promise((resolve) => setTimeout(resolve, 20))
  }
  await bidAtRate(work, hand, BIDS_A_SECOND, Math.min(WARM_SECONDS, trial.secondsLeft() / 4))
  const watchingNow = async () => (JSON.parse((await hand.ask('/api/health'))?.text ?? '{}') as { watching?: number }).watching ?? 0
  for (let waited = 0; waited < LONGEST_COMING_MS && (await watchingNow()) < WATCHERS; waited += 200) await pause(200)
  const watching = await watchingNow()
  if (watching !== WATCHERS) trial.note(`${watching} of ${WATCHERS} watchers were let in`)
  trial.begins()
  const samples: number[] = []
  while (trial.goesOn()) {
    await bidAtRate(work, hand, BIDS_A_SECOND, 1)
    samples.push(residentKb(pid))
    trial.tried()
  }
  if (heard === 0) trial.result.tried = 0
  const fifth = Math.ceil(samples.length / 5)
  // The least of a time is what stays after its rubbish was collected.
  const [first, last] = [quantile(samples.slice(0, fifth), 0.1), quantile(samples.slice(-fifth), 0.1)]
  trial.note(`${(first / 1024).toFixed(0)} MB at first, ${(last / 1024).toFixed(0)} MB at last, ${heard} frames heard`)
  if (samples.length < LEAST_SECONDS) trial.leaveOut('in less than two minutes nothing can be said of growth')
  else if (last > first * MOST_GROWTH)
    throw new Lie('memory grows by less than 5 %', `from ${first} KB to ${last} KB`, `${samples.length} seconds of ${WATCHERS} watchers`)
}

const residentKb = (pid: number): number => Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1] ?? 0)
