import { expect, test } from 'vitest'
import { byDesign } from '#bench/earlier/earlier.rules'

const one = {
  design: 'Tern',
  serial: '',
  builtOn: null,
  minutes: null,
  raisedMinor: null,
  currency: null,
  fate: 'kept',
  fateOn: null,
} as const

test('hours are the mean of those that are known, and currencies are never added', () => {
  expect(
    byDesign([
      { ...one, minutes: 60 },
      { ...one, design: 'TERN', minutes: 120, raisedMinor: 100, currency: 'EUR' },
      { ...one, raisedMinor: 5, currency: 'GBP' },
    ]),
  ).toEqual([
    {
      design: 'Tern',
      machines: 3,
      timed: 2,
      meanMinutes: 90,
      raised: [
        { currency: 'EUR', machines: 1, minor: 100 },
        { currency: 'GBP', machines: 1, minor: 5 },
      ],
    },
  ])
})
