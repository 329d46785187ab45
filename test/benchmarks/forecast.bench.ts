import { test } from 'vitest'
import { forecast } from '#money/forecast/forecast.rules'
import { print } from './open-house'

// A forecast of sixteen lots on the grid, beside drawing each of them ten thousand times, which leaves half a point of doubt. It prints.
const LOTS = Array.from({ length: 16 }, (_, index) => ({
  number: index + 1,
  title: `Lot ${index + 1}`,
  isOpen: true,
  standingMinor: index % 3 === 0 ? null : 9_000 + index * 400,
  openingMinor: 2_000,
  lowMinor: 8_000 + index * 500,
  likelyMinor: 15_000 + index * 700,
  highMinor: 26_000 + index * 900,
}))

const timed = (work: () => void): number => {
  work()
  const from = performance.now()
  for (let times = 0; times < 5; times += 1) work()
  return (performance.now() - from) / 5
}

test('a forecast of sixteen lots', { timeout: 60_000 }, () => {
  const input = { lots: LOTS, drafts: [], shareBp: 10_000, targetMinor: 300_000, lotsFixedMinor: 0, giftMinor: 0, promises: [] }
  const grid = timed(() => forecast(input))
  let sum = 0
  const drawn = timed(() => {
    for (let draw = 0; draw < 10_000; draw += 1)
      for (const { lowMinor, highMinor } of LOTS) sum += lowMinor + Math.random() * (highMinor - lowMinor)
  })
  const { chanceFrom, chanceTo } = forecast(input)
  const bound = ((chanceTo - chanceFrom) * 100).toFixed(2)
  print(
    `forecast of 16 lots: ${(grid / drawn).toFixed(1)} of ten thousand draws; its chance is bounded to ${bound} points, theirs doubted by 1.0`,
  )
  if (sum < 0) throw new Error('nothing was drawn')
})
