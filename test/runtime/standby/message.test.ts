import { createHash } from 'node:crypto'
import { describe, expect, test } from 'vitest'
import { openingPart, openReader, partsOf } from '#runtime/standby/message'

const keysOf = (house: string) => ({ seal: (words: string) => new Uint8Array(createHash('sha256').update(`${house} ${words}`).digest()) })
const keys = keysOf('this house')
const group = (secret: string) => JSON.stringify({ kind: 'group', migration: 'm', at: 1, rows: [['bid', null, [secret]]] })

describe('what is told to machines that stand by', () => {
  test('is read by this house alone, and only in its own place', () => {
    const [part] = partsOf(keys, group('a maximum'), 7, 'id', 900_000)
    if (!part) throw new Error('no part')
    expect(Buffer.from(part.body, 'base64url').toString('latin1')).not.toContain('maximum')
    expect(openReader(keys)(part)).toMatchObject({ kind: 'group', rows: [['bid', null, ['a maximum']]] })
    expect(() => openReader(keysOf('another house'))(part)).toThrow()
    expect(() => openReader(keys)({ ...part, number: 8 })).toThrow()
    expect(() => openReader(keys)({ ...part, messageId: 'other' })).toThrow()
  })

  test('is cut where it is too long, no part longer than may be, and counts when all of it is there', () => {
    const secret = 'é'.repeat(5_000)
    const parts = partsOf(keys, group(secret), 3, 'id', 2_000)
    expect(parts.length).toBeGreaterThan(5)
    expect(Math.max(...parts.map(({ body }) => body.length))).toBeLessThanOrEqual(2_000)
    expect(parts.map(({ number }) => number)).toEqual(parts.map((_, index) => 3 + index))
    const read = openReader(keys)
    const told = parts.map((part) => read(part))
    expect(told.slice(0, -1).every((one) => one === null)).toBe(true)
    expect(told.at(-1)).toMatchObject({ rows: [['bid', null, [secret]]] })
  })

  test('of which only the first parts came is forgotten when another follows; one that begins in its middle is refused', () => {
    const parts = partsOf(keys, group('x'.repeat(5_000)), 1, 'id', 2_000)
    const [first, second] = parts
    if (!first || !second) throw new Error('no parts')
    const read = openReader(keys)
    expect(read(first)).toBeNull()
    expect(read(openingPart(keys, 2, 'other', { migration: 'm', at: 2, who: 'another machine' }))).toMatchObject({ kind: 'opened' })
    expect(() => openReader(keys)(second)).toThrow('begins in its middle')
  })
})
