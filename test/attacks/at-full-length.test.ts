import { afterAll, beforeAll, expect, test } from 'vitest'
import { seededChance } from '#kernel/seeded'
import { openToldHouse } from '#test/make/told-house'
import type { Stage } from '#test/stage'
import { hintsOf } from './hints'
import { audienceOf, POLICIES } from './policies'
import { type Hints, mostOf, partsOf, valueFor, waysInto, withAt } from './shapes'
import { busyFor } from './thread-time'
import { call, everyProcedure } from './walk'
import { WORST_KINDS, worstText } from './worst-texts'

/** No text that anybody sends may keep the thread that takes bids for longer than this. */
const MOST_MS = 50
/** Of the kinds of texts each field has one in so many, in turn; every one with `npm run worst-texts`. */
const ONE_IN = Number(process.env.WORST_ONE_IN ?? 24)

let stage: Stage
let hints: Hints
beforeAll(async () => {
  stage = await openToldHouse()
  hints = await hintsOf(stage)
}, 240_000)
afterAll(() => stage.close())

test('a text as long as its field takes is worked through without holding up anybody', async () => {
  const slow: string[] = []
  let turn = 0
  for (const { path, shape } of everyProcedure()) {
    if (!shape) continue
    const value = valueFor(shape, path.split('.')[0] ?? '', hints, seededChance(7))
    const audience = audienceOf(POLICIES[path] ?? 'anyone')
    const caller = await stage.as(Array.isArray(audience) ? audience[0] : 'bidder')
    // What takes long whatever is asked, such as playing a day, is for a thread of its own: only what the text adds counts.
    let usual: number | null = null
    const most = new Map(partsOf(shape).map((part) => [part.path, mostOf(part.shape)]))
    for (const way of waysInto(value)) {
      if (typeof way.reduce<unknown>((at, step) => (at as Record<string | number, unknown>)[step], value) !== 'string') continue
      const length = most.get(way.map((step) => (typeof step === 'number' ? '0' : step)).join('.')) ?? 200
      if (!Number.isFinite(length)) continue
      for (let kind = turn++ % ONE_IN; kind < WORST_KINDS; kind += ONE_IN) {
        const ask = () => call(caller, path, withAt(value, way, worstText(kind, length)))
        if ((await busyFor(ask, MOST_MS)) <= MOST_MS) continue
        usual ??= await busyFor(() => call(caller, path, value), 0)
        const busy = await busyFor(ask, MOST_MS + 2 * usual)
        if (busy > MOST_MS + 2 * usual)
          slow.push(`${path} ${way.join('.')} (${length}): ${JSON.stringify(worstText(kind, 30))} ${busy.toFixed(0)} ms`)
      }
    }
  }
  expect(slow).toEqual([])
}, 900_000)
