import { renderToStaticMarkup } from 'react-dom/server'
import { expect, test } from 'vitest'
import { type Reached, sayStrip } from '#app/_ui/strip.rules.ts'
import { Strip } from '#app/_ui/strip.tsx'

test('the sentence names what is reached and what comes next', () => {
  expect(sayStrip(0, 'TERN-03')).toBe('TERN-03 waits for its parts; next: given.')
  expect(sayStrip(1, 'TERN-03')).toBe('TERN-03 is given; next: built.')
  expect(sayStrip(3, 'TERN-03')).toBe('TERN-03 is given, built and tested; next: listed.')
  expect(sayStrip(6, 'TERN-03')).toBe('TERN-03 is given, built, tested, listed, sold and sent.')
})

test.each([0, 1, 2, 3, 4, 5, 6] as const)('%i terminals are clamped, and only the last of them is marked', (reached: Reached) => {
  const markup = renderToStaticMarkup(<Strip reached={reached} />)
  expect(markup.match(/class="cell[^"]*reached/g) ?? []).toHaveLength(reached)
  expect(markup.match(/class="cell[^"]*last/g) ?? []).toHaveLength(reached === 0 ? 0 : 1)
  expect(markup.match(/<svg/g)).toHaveLength(6)
  // The slot of a clamped screw lies along the wire: the shape says it without the colour.
  expect(markup.match(/M13 19\.5L27 16\.5/g) ?? []).toHaveLength(reached)
})
