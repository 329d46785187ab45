import { expect, test } from 'vitest'
import { deviceInWords } from '#people/sign-in/device-words.rules'

const WEBKIT = 'AppleWebKit/537.36 (KHTML, like Gecko)'

test.each([
  ['Mozilla/5.0 (X11; Linux x86_64; rv:140.0) Gecko/20100101 Firefox/140.0', 'Firefox on Linux'],
  [`Mozilla/5.0 (X11; Linux x86_64) ${WEBKIT} Chrome/149.0.0.0 Safari/537.36`, 'Chrome on Linux'],
  [`Mozilla/5.0 (Windows NT 10.0; Win64; x64) ${WEBKIT} Chrome/149.0.0.0 Safari/537.36 Edg/149.0.0.0`, 'Edge on Windows'],
  [`Mozilla/5.0 (Linux; Android 16; Pixel 9) ${WEBKIT} Chrome/149.0.0.0 Mobile Safari/537.36`, 'Chrome on Android'],
  [
    `Mozilla/5.0 (Linux; Android 15; SM) ${WEBKIT} SamsungBrowser/27.0 Chrome/149.0.0.0 Mobile Safari/537.36`,
    'Samsung Internet on Android',
  ],
  ['Mozilla/5.0 (iPhone; CPU iPhone OS 19_0 like Mac OS X) AppleWebKit/605.1.15 Version/19.0 Mobile Safari/604.1', 'Safari on an iPhone'],
  ['Mozilla/5.0 (Macintosh; Intel Mac OS X 10_15_7) AppleWebKit/605.1.15 Version/19.0 Safari/605.1.15', 'Safari on macOS'],
  ['curl/8.5.0', 'An unknown browser'],
  ['Something (Linux)', 'A browser on Linux'],
  ['', 'An unknown browser'],
  [undefined, 'An unknown browser'],
])('%s is called %s', (said, words) => {
  expect(deviceInWords(said)).toBe(words)
})

test('of a browser that says a great deal of itself only its beginning is read', () => {
  expect(deviceInWords(`${'x'.repeat(1_000_000)} Firefox/1`)).toBe('An unknown browser')
})
