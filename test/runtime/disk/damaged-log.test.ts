import { copyFileSync, cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, truncateSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { damageOfLog } from '#runtime/disk/damaged-log'
import { noteAlive } from '#runtime/queue/alive'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { openStage } from '#test/stage'

let dir: string
let log: string
/** What a house that was killed left, with bids in its log. */
beforeEach(async () => {
  dir = mkdtempSync(join(tmpdir(), 'tagstrip-log-'))
  const stage = openStage()
  const { number } = await makeOpenLot(stage)
  const { bid } = await makeBidder(stage, 'Ada')
  await bid(number, '60')
  await bid(number, '70')
  await stage.command((turn) => noteAlive(turn))
  mkdirSync(join(dir, 'killed'), { mode: 0o700 })
  for (const name of ['tagstrip.db', 'tagstrip.db-wal']) copyFileSync(join(stage.dir, name), join(dir, 'killed', name))
  cpSync(join(stage.dir, 'keys'), join(dir, 'killed', 'keys'), { recursive: true })
  stage.close()
  log = join(dir, 'killed', 'tagstrip.db-wal')
})
afterEach(() => rmSync(dir, { recursive: true, force: true }))

const turn = (at: number) => {
  const bytes = readFileSync(log)
  bytes.writeUInt8(bytes.readUInt8(at) ^ 1, at)
  writeFileSync(log, bytes)
  return bytes
}
const open = (mayLoseLog = false) => openStage({ dir: join(dir, 'killed'), mayLoseLog })

describe('a log that is whole', () => {
  it('is read, and so is one whose last write was torn', () => {
    expect(damageOfLog(log)).toBeNull()
    truncateSync(log, readFileSync(log).length - 100)
    expect(damageOfLog(log)).toBeNull()
    open().house.close()
  })
})

describe('a log in which a byte was turned', () => {
  it('keeps the house from opening, in words that say where and what to do, and stays as it is', () => {
    const bytes = turn(32 + 24 + 4096 + 24 + 100)
    expect(open).toThrow(/tagstrip\.db-wal, is damaged at frame 2: what was stored in the \d+ steps from there on cannot be read/)
    expect(open).toThrow('npm run restore -- folder')
    expect(readFileSync(log).equals(bytes)).toBe(true)
  })

  it.each([3, 9, 20, 26])('in its beginning (byte %i) too', (at) => {
    turn(at)
    expect(open).toThrow(/is damaged at its beginning/)
  })

  it('is let go only when somebody says so', () => {
    turn(readFileSync(log).length - 30_000)
    expect(open).toThrow('--lose-the-damaged-log')
    open(true).house.close()
  })
})
