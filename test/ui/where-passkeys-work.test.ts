import { expect, test } from 'vitest'
import { whyNoPasskey } from '#app/_ui/passkeys/where-passkeys-work.rules.ts'

const at = (publicUrl: string, change: Partial<Parameters<typeof whyNoPasskey>[0]> = {}) =>
  whyNoPasskey({ isSecure: true, knowsPasskeys: true, origin: new URL(publicUrl).origin, publicUrl, ...change })

test.each([['https://auction.example'], ['https://auction.example/'], ['https://auction.example:8443'], ['http://localhost:4170']])(
  'at %s a passkey can be used',
  (publicUrl) => {
    expect(at(publicUrl)).toBeNull()
  },
)

test.each([
  ['a house over plain HTTP', at('http://auction.example'), 'need HTTPS'],
  ['a house over plain HTTP in this network', at('http://192.168.1.20:4170', { isSecure: false }), 'need HTTPS'],
  ['a house without a name', at('https://192.0.2.7'), 'has a number'],
  ['a house without a name, in the longer form', at('https://[2001:db8::7]:4170'), 'has a number'],
  [
    'another address than the house’s own',
    at('https://auction.example', { origin: 'https://www.auction.example' }),
    'work at https://auction.example',
  ],
  [
    'the same machine under another name',
    at('http://localhost:4170', { origin: 'http://127.0.0.1:4170' }),
    'work at http://localhost:4170',
  ],
  ['a page that the browser does not hold safe', at('https://auction.example', { isSecure: false }), 'over plain HTTP'],
  ['a browser without any', at('https://auction.example', { knowsPasskeys: false }), 'no passkeys'],
])('%s says why, and that a code works', (_, words, part) => {
  expect(words).toContain(part)
  expect(words).toContain('code by email')
})
