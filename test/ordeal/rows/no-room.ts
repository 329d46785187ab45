import { spawnSync } from 'node:child_process'
import { mkdirSync, rmSync, statfsSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { furnish } from '../furnish'
import { wordsOf } from '../hand'
import { serveHouse } from '../served'
import { between, Lie, pause, type Row, type Trial } from '../trial'
import { openWork, someAddress } from '../work'

const DISK_MB = 48
const MOST_LEFT_KB = 300
const BACK_WITHIN_MS = 5_000
const GOES_ON_BY_ITSELF = 'the house goes on within 5 s of room'

export const noRoom: Row = {
  id: 'R10',
  what: 'the disk full at any point',
  goal: '500; pages go on, a sentence is said, it goes on within 5 s of room',
  times: 500,
  unit: 'times',
  run,
}

/** A disk of memory that is small: only whoever may mount can make one. */
async function run(trial: Trial): Promise<void> {
  const disk = join(trial.dir, 'disk')
  mkdirSync(disk)
  if (process.platform !== 'linux' || spawnSync('mount', ['-t', 'tmpfs', '-o', `size=${DISK_MB}m`, 'tmpfs', disk]).status !== 0) {
    trial.leaveOut('a small disk can be made by root on Linux alone')
    return
  }
  trial.atEnd(() => spawnSync('umount', ['-l', disk]))
  const dataDir = join(disk, 'house')
  const house = await furnish(dataDir, { lots: 6, bidders: 120 })
  const work = openWork(trial, house)
  const { hand, said } = await serveHouse(trial, dataDir)
  const ballast = join(disk, 'ballast')
  const full = /full/
  let slowest = 0
  trial.begins()
  for (let round = 1; trial.goesOn(); round++) {
    const leftKb = between(trial.chance, 0, MOST_LEFT_KB)
    const step = `round ${round}, ${leftKb} KB left`
    const { bavail, bsize } = statfsSync(disk)
    if (bavail * bsize < 4 * 1024 * 1024) {
      trial.note('the disk of the ordeal is used up by what the house holds')
      break
    }
    writeFileSync(ballast, Buffer.alloc(Math.max(0, bavail * bsize - leftKb * 1024)))
    let refusal: string | null = null
    for (let bids = 0; refusal === null && bids < 400; bids++) {
      const bid = await work.bid(hand)
      if (!bid) await pause(10)
      else if (!bid.heard) throw new Lie('whoever bids on a full disk is answered', 'no answer', step)
      else if (bid.heard.status >= 500 && !full.test(wordsOf(bid.heard))) throw new Lie('a sentence is said', wordsOf(bid.heard), step)
      else if (full.test(wordsOf(bid.heard))) refusal = wordsOf(bid.heard)
    }
    if (refusal === null) throw new Lie('a disk without room is noticed', '400 bids were taken', step)
    const page = await hand.ask('/lots.json', { from: someAddress(trial.chance) })
    if (page?.status !== 200) throw new Lie('pages go on', `${page?.status ?? 'no answer'} for /lots.json`, step)
    const { trouble } = JSON.parse((await hand.ask('/api/health'))?.text ?? '{}') as { trouble?: string | null }
    if (!trouble || !full.test(trouble)) throw new Lie('every screen says why', String(trouble), step)
    rmSync(ballast)
    const roomAt = performance.now()
    let back = false
    while (!back) {
      back = (await work.bid(hand))?.heard?.status === 200
      const waited = performance.now() - roomAt
      if (!back && waited > BACK_WITHIN_MS)
        throw new Lie(GOES_ON_BY_ITSELF, `no bid taken after ${waited.toFixed(0)} ms; ${said().slice(-400)}`, step)
      slowest = Math.max(slowest, waited)
      if (!back) await pause(20)
    }
    const faults = await work.check(hand)
    if (faults.length > 0) throw new Lie('nothing by halves, nothing lost', faults[0]?.words ?? '', step)
    trial.tried()
  }
  trial.note(`at the slowest a bid was taken ${slowest.toFixed(0)} ms after there was room`)
}
