import { expect, test } from 'vitest'
import type { Note } from '#air/rehearsal/rehearsal.contract'
import { minutesLate, reportLines, reportOf } from '#air/rehearsal/report.rules'
import { MINUTE } from '#kernel/instant'

const CUES = ['story', 'working', 'record', 'last-call']
const cues = (lot: number, keys = CUES): Note[] => keys.map((cue) => ({ kind: 'cue', lot, cue }))
const planned: Note[] = [
  { kind: 'planned', lot: 1, at: 60 * MINUTE },
  { kind: 'planned', lot: 2, at: 80 * MINUTE },
]

const report = (ended: [number, number][], notes: Note[] = [...cues(1), ...cues(2)], closes = 600) =>
  reportOf({
    from: 0,
    to: 100 * MINUTE,
    closesAt: closes * MINUTE,
    ended: ended.map(([lot, minute]) => ({ lot, endedAt: minute * MINUTE })),
    notes: [...planned, ...notes],
  })

test('lots that closed in time, with every cue shown, leave nothing to say', () => {
  expect(
    report([
      [1, 60],
      [2, 80],
    ]),
  ).toMatchObject({
    collisions: [],
    overMs: 0,
    refused: [],
    lots: [
      { lateMs: 0, missedCues: [] },
      { lateMs: 0, missedCues: [] },
    ],
  })
})

test('a lot that runs into the ten minutes of the next is named with by how much', () => {
  expect(
    report([
      [1, 68],
      [2, 80],
    ]).collisions,
  ).toEqual([{ lot: 1, into: 2, byMs: 3 * MINUTE }])
})

test('five minutes after one and ten before the next may touch', () => {
  expect(
    report([
      [1, 65],
      [2, 80],
    ]).collisions,
  ).toEqual([])
})

test('a cue that the screen never came to is missed, unless its time lay before the start', () => {
  expect(report([[1, 60]], cues(1, ['story', 'last-call'])).lots[0]?.missedCues).toEqual(['show it working', 'three lines from its record'])
  const late = reportOf({
    from: 55 * MINUTE,
    to: 99 * MINUTE,
    closesAt: 600 * MINUTE,
    ended: [{ lot: 1, endedAt: 60 * MINUTE }],
    notes: planned,
  })
  expect(late.lots[0]?.missedCues).toEqual(['three lines from its record', 'last call'])
})

test('the minutes after the last lot count for the end of the stream', () => {
  expect(report([[2, 80]], [], 84).overMs).toBe(MINUTE)
  expect(report([[2, 80]], [], 85).overMs).toBe(0)
})

test('refused bids are counted by their words, the most frequent first', () => {
  const refused = (words: string): Note => ({ kind: 'refused', lot: 1, words })
  expect(report([[1, 60]], [refused('a'), refused('b'), refused('b')]).refused).toEqual([
    { words: 'b', times: 2 },
    { words: 'a', times: 1 },
  ])
})

test('in a terminal it is a few lines', () => {
  const lines = reportLines(report([[1, 68]], [{ kind: 'bid', lot: 1 }]), (at) => `${at / MINUTE}′`)
  expect(lines[0]).toBe('Rehearsed from 0′ to 100′: one lot closed, one bid taken.')
  expect(lines[1]).toBe('  lot 1: planned 60′, closed 68′, 8 min late')
})

test('the report says what was rehearsed, what was not, and which lots took no part', () => {
  const left = 'Lot 9 took no part: it has no time in the day.'
  const found = report(
    [[1, 60]],
    [
      { kind: 'trouble', trouble: 'burst' },
      { kind: 'left', words: left },
    ],
  )
  expect([found.tried, found.untried]).toEqual([['burst'], ['guest-late', 'stream-lost', 'killed']])
  expect(reportLines(found, String).slice(-3)).toEqual([
    'Rehearsed: a burst of bids.',
    'Not rehearsed: a guest is late, the stream is lost, the process is killed.',
    left,
  ])
})

test('a lot is as late as the two times beside it differ', () => {
  const [planned, closed] = [Date.parse('2027-03-13T22:13:00Z'), Date.parse('2027-03-13T22:15:40Z')]
  expect(minutesLate(planned, closed)).toBe(2)
  expect(minutesLate(planned, planned + 50_000)).toBe(0)
})
