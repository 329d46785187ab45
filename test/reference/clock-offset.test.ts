import { expect, test } from 'vitest'
import { offsetOf } from '#kernel/clock-offset.rules'

// RFC 5905, section 8: offset = ((T2 − T1) + (T3 − T4)) / 2, delay = (T4 − T1) − (T3 − T2), with erratum 5020.
test.each([
  { t1: 0, t2: 120, t3: 125, t4: 45, offset: 100, delay: 40 },
  { t1: 1000, t2: 1550, t3: 1551, t4: 1101, offset: 500, delay: 100 },
  { t1: 0, t2: 0, t3: 0, t4: 0, offset: 0, delay: 0 },
])('an exchange at $t1, $t2, $t3, $t4 is $offset off with $delay there and back', ({ t1, t2, t3, t4, offset, delay }) => {
  expect(offsetOf({ asked: t1, received: t2, answered: t3, heard: t4 })).toEqual({ offset, delay })
})
