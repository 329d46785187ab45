import { readFileSync, truncateSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { missingBytes } from '#runtime/disk/cut-database'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
let file: string
beforeEach(async () => {
  stage = openStage()
  const { number } = await makeOpenLot(stage)
  await (await makeBidder(stage, 'Ada')).bid(number, '60')
  file = join(stage.dir, 'tagstrip.db')
})
afterEach(() => stage.close())
const size = () => readFileSync(file).length

describe('a database of which the end was cut off', () => {
  it('is whole while the house is open, and when it was closed', () => {
    expect(missingBytes(file)).toBe(0)
    stage.house.close()
    expect(missingBytes(file)).toBe(0)
    stage = openStage({ dir: stage.dir })
  })

  it.each([1, 100, 4096, 3 * 4096 + 5])('by %i bytes: the house does not open, says so, and leaves it as it is', (bytes) => {
    stage.house.close()
    const whole = size()
    const kept = readFileSync(file)
    truncateSync(file, whole - bytes)
    const words = bytes === 1 ? 'The last byte of the database is missing' : `The last ${bytes} bytes of the database are missing`
    expect(() => openStage({ dir: stage.dir })).toThrow(words)
    expect(() => openStage({ dir: stage.dir })).toThrow('npm run restore -- folder')
    expect(size()).toBe(whole - bytes)
    // What was cut off is put back, as from a copy.
    writeFileSync(file, kept)
    stage = openStage({ dir: stage.dir })
  })
})
