import { expect, test } from 'vitest'
import { MOST_CALL_BYTES } from '#doors/web/bodies'
import { CALL_SIZES } from '#doors/web/call-sizes'
import { seededChance } from '#kernel/seeded'
import { valueFor, waysInto, withAt } from './shapes'
import { busyFor } from './thread-time'
import { everyProcedure } from './walk'
import { WORST_KINDS, worstText } from './worst-texts'

/** No text that anybody sends may keep the thread that takes bids for longer than this. */
const MOST_MS = 50

test('a text as large as its whole call, at any field of any procedure, is found to be too long at once', async () => {
  const slow: string[] = []
  for (const { path, shape } of everyProcedure()) {
    if (!shape) continue
    const value = valueFor(shape, '', {}, seededChance(7))
    const ways = waysInto(value).filter(
      (way) => typeof way.reduce<unknown>((at, step) => (at as Record<string | number, unknown>)[step], value) === 'string',
    )
    const { safeParse } = shape as unknown as { safeParse(value: unknown): unknown }
    for (let kind = 0; kind < WORST_KINDS; kind++) {
      const text = worstText(kind, CALL_SIZES[path] ?? MOST_CALL_BYTES)
      // One at a time, since a call has room for no more; all together first, which is mostly quick enough.
      const together = await busyFor(() => ways.map((way) => safeParse(withAt(value, way, text))), MOST_MS)
      for (const way of together > MOST_MS ? ways : []) {
        const busy = await busyFor(() => safeParse(withAt(value, way, text)), MOST_MS)
        if (busy > MOST_MS) slow.push(`${path} ${way.join('.')} of ${JSON.stringify(text.slice(0, 20))}: ${busy.toFixed(0)} ms`)
      }
    }
  }
  expect(slow).toEqual([])
}, 120_000)
