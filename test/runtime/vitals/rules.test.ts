import { describe, expect, it } from 'vitest'
import { judgeCopy } from '#runtime/vitals/copies.rules'
import { fillingRate, judgeLog, judgeRoom } from '#runtime/vitals/disk.rules'
import { judgeSweeps, judgeTick, judgeWriter } from '#runtime/vitals/going.rules'
import { lagInWords, sizeInWords, spanInWords } from '#runtime/vitals/in-words.rules'
import { judgeClock, judgeFiles, judgeLag, judgeMemory } from '#runtime/vitals/process.rules'
import type { Finding } from '#runtime/vitals/vital'

const MB = 1024 ** 2
const GB = 1024 ** 3
const HOUR = 3_600
const DAY = 24 * HOUR

describe('what is watched is judged at its edges', () => {
  const copy = { age: 10 * 60, isStreamDay: true, openFor: 5 * HOUR, isWorthACopy: true }
  const memory = { used: 1, given: 100, heap: 1, heapLimit: 100 }
  it.each<[string, Finding, Finding['standing']]>([
    ['the ticker looked ten seconds ago', judgeTick(10), 'good'],
    ['fifteen', judgeTick(15), 'good'],
    ['a little more', judgeTick(15.1), 'look'],
    ['thirty', judgeTick(30), 'look'],
    ['more than thirty', judgeTick(30.1), 'bad'],
    ['before the house is open', judgeTick(null), 'good'],
    ['no sweep fails', judgeSweeps([]), 'good'],
    ['one began to fail', judgeSweeps([{ name: 'closing', for: 3 }]), 'look'],
    ['one has failed for more than a minute', judgeSweeps([{ name: 'closing', for: 61 }]), 'bad'],
    ['something was stored a second ago', judgeWriter(1, null), 'good'],
    ['four seconds ago', judgeWriter(4, null), 'look'],
    ['eleven seconds ago', judgeWriter(11, null), 'bad'],
    ['the disk is full', judgeWriter(0, { of: 'disk', words: 'The disk of this house is full.' }), 'bad'],
    ['plenty of room', judgeRoom(20 * GB, null), 'good'],
    ['less than a gigabyte', judgeRoom(GB - 1, null), 'look'],
    ['less than 128 MB', judgeRoom(128 * MB - 1, null), 'bad'],
    ['room for eleven hours', judgeRoom(11 * GB, GB), 'look'],
    ['room for half an hour', judgeRoom(2 * GB, 4 * GB), 'bad'],
    ['a log of four megabytes', judgeLog(4 * MB, []), 'good'],
    ['a log of a hundred', judgeLog(100 * MB, ['process 12 (npm run backup)']), 'look'],
    ['a log of six hundred', judgeLog(600 * MB, []), 'bad'],
    ['turns of 20 ms', judgeLag({ half: 0, most: 0.02, longest: 0.3 }), 'good'],
    ['turns of 300 ms', judgeLag({ half: 0.01, most: 0.3, longest: 0.3 }), 'look'],
    ['turns of 1.1 s', judgeLag({ half: 0.01, most: 1.1, longest: 2 }), 'bad'],
    ['memory as usual', judgeMemory(memory), 'good'],
    ['memory that was given is nearly used', judgeMemory({ ...memory, used: 91 }), 'bad'],
    ['the heap is nearly full', judgeMemory({ ...memory, heap: 80 }), 'look'],
    ['300 of 1,024 files', judgeFiles(300, 1024, 12), 'good'],
    ['800 of 1,024 files', judgeFiles(800, 1024, 500), 'look'],
    ['1,000 of 1,024 files', judgeFiles(1000, 1024, 700), 'bad'],
    ['a system that does not say', judgeFiles(null, null, 1), 'good'],
    ['clocks that agree', judgeClock(-1.9), 'good'],
    ['a clock three seconds behind', judgeClock(-3), 'look'],
    ['a clock an hour ahead', judgeClock(HOUR), 'bad'],
    ['a copy of ten minutes on the day', judgeCopy(copy), 'good'],
    ['of fifty minutes', judgeCopy({ ...copy, age: 50 * 60 }), 'look'],
    ['of eighty minutes', judgeCopy({ ...copy, age: 80 * 60 }), 'bad'],
    ['none on the day, in a house opened just now', judgeCopy({ ...copy, age: null, openFor: 60 }), 'look'],
    ['none on the day for two hours', judgeCopy({ ...copy, age: null, openFor: 2 * HOUR }), 'bad'],
    ['of six days on another day', judgeCopy({ ...copy, isStreamDay: false, age: 6 * DAY }), 'good'],
    ['of eight days on another day', judgeCopy({ ...copy, isStreamDay: false, age: 8 * DAY }), 'look'],
    ['none on another day', judgeCopy({ ...copy, isStreamDay: false, age: null }), 'look'],
    ['none of a house without a campaign', judgeCopy({ ...copy, isWorthACopy: false, age: null }), 'good'],
  ])('%s', (_case, found, standing) => {
    expect(found.standing).toBe(standing)
    expect(found.words).toMatch(/[.]$/)
    // Whatever is not good says what to do, and whatever is good asks for nothing.
    expect(found.toDo === null).toBe(standing === 'good')
  })
})

it('the rate at which a disk fills is told only where it was seen for long enough and is more than noise', () => {
  expect(fillingRate([])).toBeNull()
  expect(fillingRate([{ at: 0, free: 2 * GB }])).toBeNull()
  expect(
    fillingRate([
      { at: 0, free: 2 * GB },
      { at: 599, free: GB },
    ]),
  ).toBeNull()
  expect(
    fillingRate([
      { at: 0, free: 2 * GB },
      { at: 1800, free: GB },
    ]),
  ).toBe(2 * GB)
  expect(
    fillingRate([
      { at: 0, free: 2 * GB },
      { at: 1800, free: 2 * GB - 4 * MB },
    ]),
  ).toBeNull()
  expect(
    fillingRate([
      { at: 0, free: GB },
      { at: 1800, free: 2 * GB },
    ]),
  ).toBeNull()
  expect(judgeRoom(20 * GB, 4 * GB).words).toContain('5 hours')
})

it('whoever keeps the log long is named', () => {
  expect(judgeLog(100 * MB, ['process 12 (npm run backup)']).words).toContain('process 12 (npm run backup)')
})

it('spans and sizes read as a person says them', () => {
  expect([0, 1, 4.4, 119, 120, 7199, 7200, 172_800].map(spanInWords)).toEqual([
    'less than a second',
    '1 second',
    '4 seconds',
    '119 seconds',
    '2 minutes',
    '120 minutes',
    '2 hours',
    '2 days',
  ])
  expect([4 * MB, 900 * MB, 14.2 * GB].map(sizeInWords)).toEqual(['4.0 MB', '900 MB', '14.2 GB'])
  expect([0.0123, 1.44].map(lagInWords)).toEqual(['12 ms', '1.4 seconds'])
})

it('what is to be done about storing is said by what keeps it from it', () => {
  expect(judgeWriter(9, { of: 'disk', words: 'Full.' }).toDo).toMatch(/^Check the disk/)
  expect(judgeWriter(9, { of: 'machines', words: 'Not reached.' }).toDo).toMatch(/NATS_URL/)
  expect(judgeWriter(9, { of: 'machines', words: 'Not reached.' }).toDo).not.toMatch(/Check the disk/)
})
