import { describe, expect, test } from 'vitest'
import { onwardPath } from '#kernel/onward'

const HOUSES = ['https://bench.example', 'http://localhost:4170', 'https://bench.example:8443']

const OURS = [
  ['/', '/'],
  ['/me', '/me'],
  ['/me/won/7', '/me/won/7'],
  ['/lots/7?from=stream#record', '/lots/7?from=stream#record'],
  ['/sign-in?next=/me', '/sign-in?next=/me'],
  ['/a/../lots/7', '/lots/7'],
  ['/./lots/7', '/lots/7'],
  ['/lots//7', '/lots//7'],
  ['/lots/%2Felsewhere.example', '/lots/%2Felsewhere.example'],
  ['/é', '/%C3%A9'],
] as const

const before = [
  '',
  '/',
  '//',
  '///',
  '\\',
  '\\\\',
  '/\\',
  '\\/',
  '/\\\\',
  '/\t',
  '/\t/',
  '\t//',
  '/\n/',
  '/\r/',
  '/ /',
  ' //',
  '/./',
  '/.//',
  '/..//',
]
const schemes = [
  'javascript:alert(1)//',
  'data:text/html,',
  'vbscript:',
  'http:',
  'https:',
  'http://',
  'https://',
  'HTTPS://',
  'https:/',
  'https:\\\\',
  'blob:https://',
  'file:///',
  'ftp://',
  'mailto:',
  'java\tscript:',
  ' javascript:',
  '\u0000javascript:',
]
const inside = [
  '@',
  ':80@',
  '//@',
  '/%09/',
  '/%0a/',
  '/%2f%2f',
  '%2f%2f',
  '/%5c',
  '/%5c/',
  '/\u0000/',
  '/\u2028/',
  '/\u3000/',
  '／／',
  '/／',
  '/\uff3c',
  '/;//',
  '/?//',
  '/..;//',
  '/%2e%2e//',
  '/%2e//',
  '/a/..//',
  '/a/../..//',
  '/a//../../',
  '/\u00a0/',
]

/** Shapes of an address that leads to elsewhere.example in some browser or that looks as if it did. */
const SHAPES = [...new Set([...before, ...schemes, ...inside])].flatMap((start) => [
  `${start}elsewhere.example`,
  `${start}elsewhere.example/lots/7?next=/`,
])

describe.each(HOUSES)('on a house at %s', (house) => {
  test.each(OURS)('%j leads on to %s', (next, path) => {
    expect(onwardPath(next, house)).toBe(path)
  })

  test('of a hundred shapes none leads out of it, however a browser reads them', () => {
    expect(SHAPES.length).toBeGreaterThan(100)
    for (const shape of SHAPES) {
      const path = onwardPath(shape, house)
      if (path === null) continue
      // Whatever is let through is followed as a browser would follow it, from a page of ours, three times over.
      let at = new URL('/sign-in', house)
      for (let n = 0; n < 3; n++) {
        expect(path, JSON.stringify(shape)).toMatch(/^\/(?![/\\])/)
        at = new URL(path, at)
        expect(at.origin, JSON.stringify(shape)).toBe(house)
      }
    }
  })

  test.each([
    '//elsewhere.example',
    '/\\elsewhere.example',
    '\\\\elsewhere.example',
    '/\t/elsewhere.example',
    '/.//elsewhere.example',
    'https://elsewhere.example',
    'javascript:alert(1)',
    '',
    'lots/7',
    '?next=/',
    '#a',
    `/${'a'.repeat(2000)}`,
  ])('%j leads nowhere', (shape) => {
    expect(onwardPath(shape, house)).toBeNull()
  })
})

test('what is no text, or is written twice, leads nowhere', () => {
  for (const next of [undefined, null, 7, ['/me', '/lots'], {}]) expect(onwardPath(next, 'https://bench.example')).toBeNull()
})
