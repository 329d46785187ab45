import { renderToStaticMarkup } from 'react-dom/server'
import { expect, test } from 'vitest'
import { Unbroken } from '#app/_ui/unbroken.tsx'

test('tags, packages and dates stay on one line, and the sentence reads as before', () => {
  const sentence = 'Fitted in KNOT-01, WREN-02 and a DIP-28 of well-known make, expected 2027-03-10.'
  const markup = renderToStaticMarkup(<Unbroken>{sentence}</Unbroken>)
  expect(markup.replaceAll(/<[^<>]*>/g, '')).toBe(sentence)
  expect([...markup.matchAll(/<span class="unbroken">([^<>]*)<\/span>/g)].map(([, word]) => word)).toEqual([
    'KNOT-01,',
    'WREN-02',
    'DIP-28',
    '2027-03-10.',
  ])
})

test('what is longer than a line of a phone may break', () => {
  expect(renderToStaticMarkup(<Unbroken>{`see ${'AB-1'.repeat(9)}`}</Unbroken>)).not.toContain('span')
})
