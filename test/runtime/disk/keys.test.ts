import { createPublicKey, verify as nodeVerify } from 'node:crypto'
import { mkdtempSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { openKeys, openSecret, rotateKey, SESSION_SECRET } from '#runtime/disk/keys'

let dir: string
beforeEach(() => {
  dir = join(mkdtempSync(join(tmpdir(), 'tagstrip-keys-')), 'keys')
})
afterEach(() => rmSync(join(dir, '..'), { recursive: true }))

test('a key is made at the first start, for its owner’s eyes only', () => {
  openKeys(dir)
  expect(statSync(dir).mode & 0o777).toBe(0o700)
  const [file = ''] = readdirSync(dir)
  expect(statSync(join(dir, file)).mode & 0o777).toBe(0o600)
  expect(openKeys(dir).jwks().keys).toHaveLength(1)
})

test('after a rotation the new key signs, and what the earlier one signed still verifies', () => {
  const before = openKeys(dir)
  const words = new TextEncoder().encode('a record')
  const signature = before.sign(words)
  const kid = rotateKey(dir, Date.now())
  const after = openKeys(dir)
  expect(after.kid).toBe(kid)
  expect(kid).not.toBe(before.kid)
  const { keys } = after.jwks()
  expect(keys.map((key) => key.kid)).toEqual([before.kid, kid])
  const earlier = keys.find((key) => key.kid === before.kid) ?? {}
  expect(nodeVerify(null, words, createPublicKey({ key: earlier, format: 'jwk' }), signature)).toBe(true)
})

test('a rotation on a clock that was set back makes the new key the newest all the same', () => {
  openKeys(dir)
  expect(openKeys(dir).kid).not.toBe(rotateKey(dir, 1))
  expect(openKeys(dir).kid).toBe(openKeys(dir).jwks().keys.at(-1)?.kid)
})

test('a rotation replaces the secret of the sessions for its owner’s eyes only, and no other secret', () => {
  openKeys(dir)
  const before = { session: openSecret(dir, SESSION_SECRET), code: openSecret(dir, 'code'), sealed: openKeys(dir).seal('a link') }
  rotateKey(dir, Date.now())
  expect(openSecret(dir, SESSION_SECRET)).not.toBe(before.session)
  expect(openSecret(dir, SESSION_SECRET)).toHaveLength(before.session.length)
  expect(openSecret(dir, 'code')).toBe(before.code)
  expect(openKeys(dir).seal('a link')).toEqual(before.sealed)
  expect(statSync(join(dir, 'session.secret')).mode & 0o777).toBe(0o600)
  expect(readdirSync(dir).filter((name) => name.endsWith('.new'))).toEqual([])
})

test('a key file that is empty is named, with what to do', () => {
  openKeys(dir)
  const [pem = ''] = readdirSync(dir).filter((name) => name.endsWith('.pem'))
  writeFileSync(join(dir, pem), '')
  expect(() => openKeys(dir)).toThrow(new RegExp(`${pem} is empty or damaged.*backup`))
  openSecret(dir, SESSION_SECRET)
  writeFileSync(join(dir, 'session.secret'), '')
  expect(() => openSecret(dir, SESSION_SECRET)).toThrow(/session\.secret is empty or damaged/)
})
