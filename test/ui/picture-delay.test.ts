import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  delayOf,
  nextMark,
  OLD_AFTER,
  pictureLeft,
  readKept,
  readShown,
  sayPicture,
  sayWorth,
  showWall,
  summed,
  withTap,
} from '#app/_ui/picture-delay.rules.ts'
import { HOUR, MINUTE, SECOND } from '#kernel/instant'

const NOW = Date.parse('2027-03-13T20:14:53.400Z')
const LONDON = 'Europe/London'
const measured = (shown: string, at = NOW, zone = LONDON) => {
  const found = delayOf(shown, at, zone)
  return 'delayMs' in found ? found.delayMs : found.words
}

describe('one tap', () => {
  test.each([
    ['20:14:30', 23_400],
    ['201430', 23_400],
    ['20.14.30', 23_400],
    ['２０：１４：３０', 23_400],
    ['20:14:53', 400],
    // A hasty finger is no picture from the future.
    ['20:14:54', 0],
    ['20:04:54', 599_400],
  ])('a picture that shows %s at 20:14:53.4 is %d ms late', (shown, delay) => {
    expect(measured(shown)).toBe(delay)
  })

  test.each([
    ['20:15:30', 'cannot show 20:15:30 yet: it is 20:14:53'],
    ['19:14:30', 'more than ten minutes ago'],
    ['20:04:30', 'more than ten minutes ago'],
    ['25:00:00', 'Write the time as the clock'],
    ['soon', 'Write the time as the clock'],
    ['', 'Write the time as the clock'],
  ])('"%s" is not taken: %s', (shown, words) => {
    expect(measured(shown)).toContain(words)
  })

  test('it is found in any zone, at any second, over midnight and over changes of the clocks', () => {
    const zones = ['Europe/London', 'Australia/Lord_Howe', 'Asia/Kolkata', 'Pacific/Chatham', 'America/New_York', 'UTC']
    const around = ['2026-10-25T01:00:00Z', '2026-10-03T15:30:00Z', '2027-04-03T15:00:00Z', '2027-03-14T00:00:00Z', '2026-03-08T07:00:00Z']
    fc.assert(
      fc.property(
        fc.constantFrom(...zones),
        fc.constantFrom(...around.map((one) => Date.parse(one))),
        fc.integer({ min: -HOUR, max: HOUR }),
        fc.integer({ min: 0, max: 590_000 }),
        (zone, near, off, late) => {
          const tapped = near + off
          const found = delayOf(showWall(tapped - late, zone), tapped, zone)
          // Within the second that the clock shows; the picture shows it from its beginning on.
          if (!('delayMs' in found)) throw new Error(found.words)
          expect(found.delayMs).toBeGreaterThanOrEqual(late)
          expect(found.delayMs - late).toBeLessThan(SECOND)
        },
      ),
    )
  })
})

describe('several taps', () => {
  test('their median is taken, so that one slip does not count', () => {
    const taps = [23_000, 23_400, 24_900].reduce<number[]>(withTap, [])
    expect(summed(taps, NOW)).toEqual({ delayMs: 23_400, doubtMs: 950, taps: 3, measuredAt: NOW })
    expect(summed([23_000, 24_000], NOW)?.delayMs).toBe(23_500)
    expect(summed([], NOW)).toBeNull()
  })
  test('one that is far away begins anew: the picture was paused', () => {
    expect(withTap([23_000, 23_400], 61_000)).toEqual([61_000])
  })
  test('the next mark is a full ten seconds that the picture has not shown yet', () => {
    const mark = nextMark(NOW, 23_400)
    expect(showWall(mark, LONDON)).toBe('20:14:40')
    expect(mark - (NOW - 23_400)).toBeGreaterThanOrEqual(3 * SECOND)
  })
})

describe('what is said of it', () => {
  const delay = { delayMs: 22_600, doubtMs: 400, taps: 3, measuredAt: NOW }
  test.each([
    [22_600, 'Your picture is 23 s late: when it says one minute, 37 s are left.'],
    [59_000, 'Your picture is 59 s late: when it says one minute, one second is left.'],
    [60_000, 'Your picture is 60 s late: when it says 2 minutes, 60 s are left.'],
    [75_000, 'Your picture is 75 s late: when it says 2 minutes, 45 s are left.'],
    [800, 'Your picture is a second late at most.'],
  ])('%d ms', (delayMs, words) => {
    expect(sayPicture({ ...delay, delayMs })).toBe(words)
  })
  test('how old it is, and that it is too old', () => {
    expect(sayWorth(delay, NOW)).toBe('Measured just now, from 3 taps that agree within 1 s.')
    expect(sayWorth({ ...delay, taps: 1 }, NOW + 5 * MINUTE)).toBe('Measured 5 min ago, from one tap.')
    expect(sayWorth(delay, NOW + OLD_AFTER)).not.toContain('once more')
    expect(sayWorth(delay, NOW + OLD_AFTER + 1)).toContain('measure it once more')
  })
  test('beside the countdown stands what the picture shows, until that is over too', () => {
    expect(pictureLeft(37_000, delay)).toBe('your picture still shows 1:00')
    expect(pictureLeft(-22_000, delay)).toBe('your picture still shows 0:01')
    expect(pictureLeft(-22_600, delay)).toBeNull()
    expect(pictureLeft(11 * MINUTE, delay)).toBeNull()
    expect(pictureLeft(37_000, { ...delay, delayMs: 900 })).toBeNull()
  })
})

describe('what is kept on the device', () => {
  const kept = JSON.stringify({ delayMs: 23_000, doubtMs: 0, taps: 1, measuredAt: NOW })
  test('is read back, and forgotten after four hours', () => {
    expect(readKept(kept, NOW + 4 * HOUR)).toMatchObject({ delayMs: 23_000 })
    expect(readKept(kept, NOW + 4 * HOUR + 1)).toBeNull()
  })
  test.each([null, '', '{', 'null', '7', '{}', kept.replace('23000', '-1'), kept.replace('23000', '"x"'), kept.replace('23000', '700000')])(
    '%s says nothing',
    (text) => {
      expect(readKept(text, NOW)).toBeNull()
    },
  )
  test('a time that was read is one of the day', () => {
    expect([readShown('00:00:00'), readShown('23:59:59'), readShown('23:59:60'), readShown('24:00:00')]).toEqual([0, 86_399, null, null])
  })
})
