import { connect, type Socket } from 'node:net'
import { join } from 'node:path'
import { quantile } from '#test/benchmarks/open-house'
import { furnish } from '../furnish'
import { bidAtRate } from '../load'
import { serveHouse } from '../served'
import { Lie, type Row, type Trial } from '../trial'
import { openWork } from '../work'

const NEVER_READING = 500
const HALF_OPEN = 500
const BIDS_A_SECOND = 60
const LEAST_ROUND_SECONDS = 2
const LEAST_ROUNDS = 3
/** What a timer and a machine that others use as well make of a few milliseconds. */
const NOISE_MS = 2

export const silentVisitors: Row = {
  id: 'R16',
  what: '500 that never read, 500 half open; others bid meanwhile',
  goal: 'the others within a fifth of before',
  times: 10,
  unit: 'rounds',
  run,
}

/** Rounds without them and with them by turns, so that what else the machine does falls on both. */
async function run(trial: Trial): Promise<void> {
  const house = await furnish(join(trial.dir, 'house'), { lots: 8, bidders: 120 })
  const work = openWork(trial, house)
  const { hand, port } = await serveHouse(trial, house.dataDir)
  const sockets: Socket[] = []
  trial.atEnd(() => leave(sockets))
  await bidAtRate(work, hand, BIDS_A_SECOND, LEAST_ROUND_SECONDS)
  trial.begins()
  const without: number[] = []
  const beside: number[] = []
  const seconds = Math.max(LEAST_ROUND_SECONDS, Math.min(10, trial.secondsLeft() / 8))
  while (trial.goesOn()) {
    without.push(quantile((await bidAtRate(work, hand, BIDS_A_SECOND, seconds)).waits, 0.5))
    await come(port, sockets)
    beside.push(quantile((await bidAtRate(work, hand, BIDS_A_SECOND, seconds)).waits, 0.5))
    leave(sockets)
    trial.tried()
  }
  const [before, after] = [quantile(without, 0.5), quantile(beside, 0.5)]
  trial.note(`half of the bids answered after ${before.toFixed(1)} ms without them, ${after.toFixed(1)} ms beside them`)
  if (trial.result.tried < LEAST_ROUNDS) trial.leaveOut(`in fewer than ${LEAST_ROUNDS} rounds the one cannot be told from the other`)
  else if (after > before * 1.2 + NOISE_MS)
    throw new Lie(
      'others are answered within a fifth of before',
      `${after.toFixed(1)} ms instead of ${before.toFixed(1)} ms`,
      'half of all bids',
    )
  const faults = await work.check(hand)
  if (faults.length > 0) throw new Lie('none is lost', faults[0]?.words ?? '', 'all bids are looked up at the end')
}

async function come(port: number, sockets: Socket[]): Promise<void> {
  for (let n = 0; n < NEVER_READING + HALF_OPEN; n++) {
    const socket = connect(port, '127.0.0.1')
    socket.on('error', () => {})
    socket.pause()
    const from = `X-Forwarded-For: 2001:db8:${n.toString(16)}:2::1\r\n`
    // A request whose last line never comes, or a stream of which nothing is ever taken out.
    const isHalf = n % 2 === 0
    socket.write(
      isHalf
        ? `GET /lots/1 HTTP/1.1\r\nHost: bench.example\r\n${from}`
        : `GET /live?topics=lots,lot:1 HTTP/1.1\r\nHost: bench.example\r\n${from}\r\n`,
    )
    sockets.push(socket)
    if (n % 50 === 49) await new Promise((resolve) => setTimeout(resolve, 10))
  }
}

function leave(sockets: Socket[]): void {
  for (const socket of sockets.splice(0)) socket.destroy()
}
