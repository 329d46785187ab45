import { setTimeout as wait } from 'node:timers/promises'
import { expect, onTestFinished, test, vi } from 'vitest'
import { watchLoop } from '#runtime/vitals/loop-lag'

test('what keeps the loop busy all the time is a lag, and nothing is said before it was measured', async () => {
  const loop = watchLoop()
  onTestFinished(loop.stop)
  expect(loop.read()).toBeNull()
  for (let turn = 0; turn < 12; turn++) {
    const until = performance.now() + 60
    while (performance.now() < until);
    await wait(1)
  }
  const { now } = performance
  vi.spyOn(performance, 'now').mockImplementation(() => now.call(performance) + 6_000)
  onTestFinished(() => void vi.restoreAllMocks())
  const lag = loop.read()
  expect(lag?.most).toBeGreaterThan(0.04)
  expect(lag?.longest).toBeGreaterThanOrEqual(lag?.most ?? 0)
})
