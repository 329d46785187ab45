import { createServer, type Server } from 'node:http'
import type { AddressInfo } from 'node:net'
import { afterEach, expect, test } from 'vitest'
import { inOneWrite, lastSeenIn, stateEvent } from '#runtime/live/event-stream.rules'
import { type Fan, openFan } from '#runtime/live/fan'
import { openStream, type RawStream } from '#test/make/stream'

const ends: (() => void)[] = []
afterEach(() => {
  for (const end of ends.splice(0)) end()
})

/** A house whose lots were last touched by one fact, and which stands at another. */
async function openCount(lots: number, seqNow: number) {
  const fan: Fan = openFan({
    make: (topic, seq) => ({ data: `{"seq":${seq},"of":"${topic}"}`, upTo: seq }),
    seqNow: () => seqNow,
    seqOf: () => lots,
    now: () => 0,
  })
  const server: Server = createServer((request, response) => fan.watch(response, ['lots'], lastSeenIn(request.headers['last-event-id'])))
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  ends.push(() => {
    fan.close()
    server.closeAllConnections()
    server.close()
  })
  const come = async (number: string): Promise<RawStream> => {
    const { port } = server.address() as AddressInfo
    const one = openStream(`http://127.0.0.1:${port}`, '/', { 'last-event-id': number })
    ends.push(one.close)
    await expect.poll(() => one.heard).toContain('event: beat')
    return one
  }
  return { fan, come }
}

test('a page that comes back to an earlier copy which has overtaken its number is brought everything all the same', async () => {
  const before = await openCount(100, 100)
  // Its lots stand as they did at fact 95, and other facts have happened since.
  const copy = await openCount(95, 105)
  expect((await before.come(`${before.fan.name}.100`)).heard).not.toContain('event: lots')
  for (const number of [`${before.fan.name}.100`, '100', '.100']) {
    const back = await copy.come(number)
    await expect.poll(() => back.heard, { message: number }).toContain(`id: ${copy.fan.name}.95\nevent: lots\ndata: {"seq":95`)
  }
  expect((await copy.come(`${copy.fan.name}.100`)).heard).not.toContain('event: lots')
})

test('what stands in the header of a page that comes back is a number with the word of its count, or a number alone', () => {
  expect(lastSeenIn('aB-_.17')).toEqual({ epoch: 'aB-_', seq: 17 })
  expect(lastSeenIn('17')).toEqual({ epoch: '', seq: 17 })
  for (const odd of [undefined, '', 'aB.', 'a b.3', '1e309', '-1', '17.5.3', `${'a'.repeat(41)}.1`, '9'.repeat(16)])
    expect(lastSeenIn(odd), odd).toBeNull()
})

test('of several states in one write only the last has the number: a line that breaks off before it has promised nothing', () => {
  // One fact has touched both.
  const both = ['lot:7', 'lots'].map((topic) => stateEvent('day', topic, { data: '{}', upTo: 20 }))
  const text = inOneWrite(both, 12, 'day')?.frames.toString() ?? ''
  expect(text).toBe('event: lot:7\ndata: {}\n\nid: day.20\nevent: lots\ndata: {}\n\n')
})

test('a number never goes back: a state that says less than its reader has leaves it the number that it has', () => {
  const late = stateEvent('day', 'lots', { data: '{}', upTo: 11 })
  expect(inOneWrite([late], 12, 'day')).toEqual({ upTo: 12, frames: Buffer.from('event: lots\ndata: {}\n\n') })
  const mixed = inOneWrite([stateEvent('day', 'meter', { data: '{}', upTo: 14 }), late], 12, 'day')
  expect(mixed?.frames.toString()).toBe('event: meter\ndata: {}\n\nid: day.14\nevent: lots\ndata: {}\n\n')
  expect(inOneWrite([], 12, 'day')).toBeNull()
})
