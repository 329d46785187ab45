import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, test } from 'vitest'
import { AsOf } from '#app/_ui/as-of.tsx'
import { nextSpoken, type Spoken as State } from '#app/_ui/spoken.rules.ts'
import { Spoken } from '#app/_ui/spoken.tsx'

const SECOND = 1_000
const NOW = Date.UTC(2027, 2, 13, 19, 0, 0)
const quiet: State = { words: '', known: 'Alias Wren leads at £100', at: null }

/** What is heard, and when, while the words change at the given seconds. */
function heard(changes: readonly (readonly [second: number, words: string])[], untilSecond: number): [second: number, words: string][] {
  let state = quiet
  let wanted = quiet.known
  const told: [number, string][] = []
  for (let second = 0; second <= untilSecond; second++) {
    wanted = changes.find(([at]) => at === second)?.[1] ?? wanted
    const next = nextSpoken(state, wanted, NOW + second * SECOND).spoken
    if (next.words !== state.words) told.push([second, next.words])
    state = next
  }
  return told
}

describe('a price that changes is read out', () => {
  test('at once, and is taken out after a minute', () => {
    expect(heard([[5, 'Alias Lark leads at £105']], 120)).toEqual([
      [5, 'Alias Lark leads at £105'],
      [65, ''],
    ])
  })
  test('not more than every ten seconds, and then as it stands by then', () => {
    const bids = [1, 3, 5, 7, 9, 10].map((second) => [second, `Alias Lark leads at £${100 + second}`] as const)
    expect(heard(bids, 30)).toEqual([
      [1, 'Alias Lark leads at £101'],
      // No longer so: it is not found there beside the price that is.
      [3, ''],
      [11, 'Alias Lark leads at £110'],
    ])
  })
  test('not when it is what was said last', () => {
    expect(
      heard(
        [
          [1, 'Alias Lark leads at £105'],
          [3, 'Alias Wren leads at £110'],
          [5, 'Alias Lark leads at £105'],
        ],
        30,
      ),
    ).toEqual([
      [1, 'Alias Lark leads at £105'],
      [3, ''],
    ])
  })
  test('and not as it stood when the page came', () => {
    expect(heard([], 30)).toEqual([])
    expect(renderToStaticMarkup(<Spoken words="Alias Wren leads at £100" />)).toBe('<span role="status" class="visually-hidden"></span>')
  })
  test('it is looked at again exactly when something is to be done', () => {
    const first = nextSpoken(quiet, 'Alias Lark leads at £105', NOW)
    expect(first.again).toBe(60 * SECOND)
    expect(nextSpoken(first.spoken, 'Alias Wren leads at £110', NOW + 4 * SECOND).again).toBe(6 * SECOND)
    expect(nextSpoken(first.spoken, 'Alias Lark leads at £105', NOW + 61 * SECOND).again).toBeNull()
    expect(nextSpoken(quiet, quiet.known, NOW).again).toBeNull()
  })
})

test('without script a page says to the second as of when it is, with a link that reads it again', () => {
  const markup = renderToStaticMarkup(<AsOf at={NOW + 7 * SECOND} zone="Europe/London" path="/lots/7" />)
  expect(markup).toMatch(/^<noscript>.*as of 19:00:07 in London.*<a href="\/lots\/7">/)
})
