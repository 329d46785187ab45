import { test } from 'vitest'
import type { BuildQuestion, Importance, UnitNeeds } from '#bench/buildable/build.contract'
import { planBuild } from '#bench/buildable/build-plan.rules'
import { openSolver } from '#bench/buildable/build-solver'
import { row } from './rows'

// How long it takes to say what can be built of 60 units with 80 lines each out of 400 parts, with substitutes and
// restricted gifts, as a ratio to one pass over the same pieces. Nothing is asserted: it prints.

/** Numbers that look like chance and are the same at every run. */
function numbers(seed: number): () => number {
  let state = seed
  return () => {
    state = (state * 1_664_525 + 1_013_904_223) % 4_294_967_296
    return state / 4_294_967_296
  }
}

function question({ scarce, seed }: { scarce: number; seed: number }): BuildQuestion {
  const next = numbers(seed)
  const upTo = (most: number) => Math.floor(next() * most)
  const designs = Array.from({ length: 5 }, () =>
    Array.from({ length: 80 }, (_, line) => ({
      lineId: `line-${line}`,
      partId: `part-${upTo(400)}`,
      accepts: next() < 0.2 ? [`part-${upTo(400)}`] : [],
      quantity: 1 + upTo(4),
    })),
  )
  const units: UnitNeeds[] = Array.from({ length: 60 }, (_, index) => ({
    unitId: `unit-${index}`,
    tag: `U-${index}`,
    designId: `design-${index % 5}`,
    designName: `Design ${index % 5}`,
    importance: (1 + upTo(3)) as Importance,
    // Every unit has come to another place, so that no two want the same.
    lines: (designs[index % 5] ?? []).filter(() => next() < 0.9),
  }))
  const wanted = new Map<string, number>()
  for (const { partId, quantity } of units.flatMap(({ lines }) => lines)) wanted.set(partId, (wanted.get(partId) ?? 0) + quantity)
  const free = { onlyForUnitId: null, onlyForDesignId: null }
  const stock = [...wanted].flatMap(([partId, quantity]) => {
    const share = next() < scarce ? 0.4 + 0.6 * next() : 1.2
    const row = { partId, quantity: Math.floor(quantity * share), ...free }
    return next() < 0.05 ? [row, { ...row, quantity: upTo(5), onlyForDesignId: `design-${upTo(5)}` }] : [row]
  })
  const coming = stock.slice(0, 40).map((row, index) => ({
    ...row,
    ...free,
    quantity: 1 + upTo(20),
    giftId: `gift-${index}`,
    parcel: `donor-${index % 8}`,
    isOnItsWay: index % 2 === 0,
    expectedOn: `2027-03-0${1 + (index % 8)}`,
  }))
  return { units, stock, coming, lastUsefulDay: '2027-03-10' }
}

test('what can be built', { timeout: 120_000 }, async () => {
  const solve = await openSolver()
  for (const scarce of [0.02, 0.1, 0.4]) {
    const times: number[] = []
    let solved = 0
    for (let seed = 1; seed <= 5; seed++) {
      const asked = question({ scarce, seed })
      const started = performance.now()
      planBuild(asked, (lp) => {
        solved += 1
        return solve(lp)
      })
      times.push(performance.now() - started)
    }
    const passes = performance.now()
    const asked = question({ scarce, seed: 1 })
    for (let n = 0; n < 100; n++) JSON.stringify(asked)
    const pass = (performance.now() - passes) / 100
    times.sort((a, b) => a - b)
    row({
      measure: `what can be built, ${100 * scarce} % scarce, the slowest, ms`,
      run: times[4] ?? 0,
      baseline: pass,
      of: 'one pass over the pieces',
      goal: { runAtMost: 2_000 },
    })
    const words = (ms: number) => `${ms.toFixed(0)} ms (${(ms / pass).toFixed(0)} passes)`
    process.stdout.write(
      `60 units, 80 lines, 400 parts, ${100 * scarce} % of them scarce: half within ${words(times[2] ?? 0)}, the slowest ${words(times[4] ?? 0)}; ${solved / 5} programs each\n`,
    )
  }
})
