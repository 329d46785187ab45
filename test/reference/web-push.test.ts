import { createECDH } from 'node:crypto'
import { expect, test } from 'vitest'
import { readMessage } from '#test/make/push-browser'
import published from './web-push-encryption.json'

const bytes = (text: string) => Buffer.from(text, 'base64url')

test('the example of RFC 8291 is read by the reader that our messages are read with', () => {
  const own = createECDH('prime256v1')
  own.setPrivateKey(bytes(published.browserPrivate))
  expect(own.getPublicKey('base64url')).toBe(published.browserPublic)
  const body = bytes(published.body)
  expect(body).toHaveLength(144)
  expect(readMessage(body, { own, auth: bytes(published.auth) })).toBe(published.plaintext)
  const changed = Buffer.from(body)
  changed[changed.length - 20] = (changed[changed.length - 20] ?? 0) ^ 1
  expect(() => readMessage(changed, { own, auth: bytes(published.auth) })).toThrow()
})
