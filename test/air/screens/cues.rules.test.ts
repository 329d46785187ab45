import { describe, expect, it } from 'vitest'
import { cueFor, cueFromAfar } from '#air/screens/cues.rules'
import { MINUTE, SECOND } from '#kernel/instant'

const CLOSES = Date.parse('2027-03-13T20:00:00Z')
const cue = (left: number, more: { isClosed?: boolean; isHeld?: boolean } = {}) =>
  cueFor({ now: CLOSES - left, closesAt: CLOSES, isClosed: false, isHeld: false, ...more })

describe('the cue before a closing', () => {
  it.each([
    [10 * MINUTE + 1, 'wait'],
    [10 * MINUTE, 'story'],
    [6 * MINUTE + 1, 'story'],
    [6 * MINUTE, 'working'],
    [3 * MINUTE, 'record'],
    [MINUTE + 1, 'record'],
    [MINUTE, 'last-call'],
    [1, 'last-call'],
    [0, 'confirming'],
    [-30 * SECOND, 'confirming'],
  ])('%i ms before it is %s', (left, key) => {
    expect(cue(left).key).toBe(key)
  })

  it('says what comes next and when', () => {
    expect(cue(5 * MINUTE + 42 * SECOND).next).toEqual({ words: 'three lines from its record', at: CLOSES - 3 * MINUTE })
    expect(cue(30 * SECOND).next).toEqual({ words: 'the close, confirmed by the server', at: CLOSES })
  })

  it('nobody calls it sold before the server has closed it', () => {
    expect(cue(-10 * MINUTE).key).toBe('confirming')
    expect(cue(-1, { isClosed: true }).key).toBe('result')
  })

  it('while all is held the clock gives no cue', () => {
    expect(cue(30 * SECOND, { isHeld: true }).key).toBe('held')
  })
})

it('across a hall says what to do and no more', () => {
  expect(cueFromAfar(cue(10 * MINUTE))).toBe('Tell the story.')
  expect(cueFromAfar(cue(MINUTE))).toBe('Last call.')
  expect(cueFromAfar(cue(20 * MINUTE))).toBe('There is still time.')
  expect(cueFromAfar(cue(0))).toBe('The close is being confirmed.')
  expect(cueFromAfar(cue(5 * MINUTE, { isHeld: true }))).toBe('On hold: say why, no bid is lost.')
})
