import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { OPENING, type Part } from '#runtime/standby/message'
import { Conflict, openPlace, standsIn } from '#runtime/standby/place'
import type { Stream } from '#runtime/standby/stream'
import { refuseWithoutNats } from '#runtime/standby/without-nats'

const STEPS = ['0047-what-goes-to-other-machines-before-it-is-answered.sql', '0052-a-house-that-was-overtaken-knows-it.sql'].map((name) =>
  join(import.meta.dirname, '..', '..', '..', 'db', 'migrations', name),
)

const part = (number: number, messageId = `m${number}`, of = '1/1'): Part => ({ number, messageId, part: of, body: 'sealed' })

function streamOf(held: Part[], made = 'today'): Stream {
  const stream: Stream = {
    made,
    replicas: 1,
    mostBytes: 1000,
    anew: async () => streamOf([], 'anew'),
    state: async () => ({ first: 1, last: held.length }),
    read: async (number) => held[number - 1] ?? null,
    async publish(one) {
      if (held.length !== one.number - 1) throw new Error('wrong last sequence')
      held.push(one)
    },
    follow: async () => ({ stop: async () => {} }),
  }
  return stream
}

describe('where a folder stands in the stream', () => {
  let dir = ''
  let handle: Database.Database
  beforeEach(() => {
    dir = mkdtempSync(join(tmpdir(), 'tagstrip-place-'))
    handle = new Database(join(dir, 'a.db'))
    for (const step of STEPS) handle.exec(readFileSync(step, 'utf8'))
  })
  afterEach(() => {
    handle.close()
    rmSync(dir, { recursive: true, force: true })
  })

  test('a stream that nobody has written to begins with it', async () => {
    const place = openPlace(handle)
    expect(await place.compare(streamOf([]))).toEqual([])
    expect(place.read()).toEqual({ stream: 'today', number: 0, messageId: '', aloneSince: null })
  })

  test('what was committed and never confirmed is sent, from the first that the stream has not', async () => {
    const place = openPlace(handle)
    place.move('today', 0, '')
    place.keep([part(1), part(2), part(3)], 0)
    expect((await place.compare(streamOf([part(1)]))).map(({ number }) => number)).toEqual([2, 3])
    expect(await place.compare(streamOf([part(1), part(2), part(3)]))).toEqual([])
  })

  test('one in whose place another stands, or after which another wrote, is in conflict; one that only missed openings is not', async () => {
    const place = openPlace(handle)
    place.move('today', 1, 'm1')
    place.keep([part(2)], 1)
    await expect(place.compare(streamOf([part(1), part(2, 'other')]))).rejects.toThrow(
      'One message of this folder never got there: nobody was told',
    )
    await expect(place.compare(streamOf([part(1), part(2), part(3, 'other')]))).rejects.toThrow(Conflict)
    await expect(place.compare(streamOf([part(1), part(2)], 'another day'))).rejects.toThrow('Another machine has written to the stream')
    await expect(place.compare(streamOf([]))).rejects.toThrow('had confirmed more')
  })

  test('a house that other machines know of does not open without NATS, unless somebody says that none of them writes', async () => {
    const place = openPlace(handle)
    expect(() => refuseWithoutNats(handle, false)).not.toThrow()
    place.move('today', 3, 'm3')
    // Killed outright it could note nothing.
    expect(() => refuseWithoutNats(handle, false)).toThrow(Conflict)
    expect(() => refuseWithoutNats(handle, false)).toThrow(/NATS_URL is not set now: one of them may have taken over.*--alone/)
    place.overtaken(Date.UTC(2030, 0, 1))
    expect(() => refuseWithoutNats(handle, false)).toThrow(/2030-01-01.*NATS_URL.*npm run standby, on a fresh copy.*--alone/)
    refuseWithoutNats(handle, true)
    // Said once, it is so from then on; what it does then is in no stream, so it does not go on in one as if it were.
    expect(() => refuseWithoutNats(handle, false)).not.toThrow()
    await expect(place.compare(streamOf([part(1), part(2), part(3)]))).rejects.toThrow('nothing of that is here')
  })

  test('openings after it are read over', async () => {
    const place = openPlace(handle)
    place.move('today', 1, 'm1')
    expect(await place.compare(streamOf([part(1), part(2, 'opened', OPENING)]))).toEqual([])
    expect(place.read()).toMatchObject({ number: 2, messageId: 'opened' })
  })

  test('a message whose answer was lost stands, and one that came second does not', async () => {
    const held = [part(1)]
    await expect(standsIn(streamOf(held), part(1))).resolves.toBeUndefined()
    await expect(standsIn(streamOf(held), part(1, 'mine'))).rejects.toThrow(Conflict)
  })
})
