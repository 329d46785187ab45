import { describe, expect, test } from 'vitest'
import type { Part } from '#runtime/standby/message'
import { openSender } from '#runtime/standby/sender'
import type { Stream } from '#runtime/standby/stream'

/** A stream in memory that can lose what is sent, or its answers. */
function openFakeStream(standing: Part[] = []) {
  const held = [...standing]
  let loses: 'nothing' | 'messages' | 'answers' = 'nothing'
  const stream: Stream = {
    made: 'today',
    replicas: 1,
    mostBytes: 1000,
    anew: async () => stream,
    state: async () => ({ first: 1, last: held.length }),
    read: async (number) => held[number - 1] ?? null,
    async publish(part, after) {
      if (loses === 'messages') throw new Error('timeout')
      if (held.length !== part.number - 1) throw new Error('wrong last sequence')
      if (after && held.at(-1)?.messageId !== after.messageId) throw new Error('wrong last msg ID')
      held.push(part)
      if (loses === 'answers') throw new Error('timeout')
    },
    follow: async () => ({ stop: async () => {} }),
  }
  return {
    stream,
    held,
    loses: (what: typeof loses) => {
      loses = what
    },
  }
}

const group = (number: number, messageId = `group ${number}`): Part => ({ number, messageId, part: '1/1', body: 'sealed' })
const wait = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms))

function openTrial(standing: Part[] = [], patienceMs = 400) {
  const fake = openFakeStream(standing)
  const told: string[] = []
  const sender = openSender({
    stream: () => fake.stream,
    patienceMs,
    unconfirmed: () => 'not confirmed yet',
    said: () => told.push('said'),
    conflict: (words) => told.push(words),
    moved: () => {},
    againMs: 1,
  })
  sender.begin(standing.length)
  const send = (...parts: Part[]) =>
    sender.send(parts, {
      held: () => told.push(`held ${parts.map(({ number }) => number).join(' ')}`),
      tooLate: (reason) => told.push(`too late: ${String(reason)}`),
    })
  return { ...fake, told, sender, send }
}

describe('what is sent to the stream', () => {
  test('is told in the order in which it was done, and what changed nothing after all before it', async () => {
    const { send, told, held, sender } = openTrial()
    send(group(1), group(2))
    send()
    send(group(3))
    await expect.poll(() => told).toEqual(['held 1 2', 'held ', 'held 3'])
    expect(held.map(({ number }) => number)).toEqual([1, 2, 3])
    expect(sender.confirmed()).toBe(3)
  })

  test('stands there once where its answer was lost, and is told then', async () => {
    const { send, told, held, loses } = openTrial()
    loses('answers')
    send(group(1))
    send(group(2))
    await expect.poll(() => told, { timeout: 5_000 }).toEqual(['held 1', 'held 2'])
    expect(held).toHaveLength(2)
  })

  test('whoever waits too long is told, and it counts in the end', async () => {
    const { send, told, held, loses, sender } = openTrial()
    loses('messages')
    send(group(1))
    await expect.poll(() => told, { timeout: 5_000 }).toEqual(['too late: not confirmed yet', 'said'])
    expect(sender.isStuck()).toBe(true)
    loses('nothing')
    await expect.poll(() => told.slice(2), { timeout: 5_000 }).toEqual(['held 1', 'said'])
    expect(sender.isStuck()).toBe(false)
    expect(held).toHaveLength(1)
  })

  test('never stands behind the message of another machine that came in place of the one before it', async () => {
    const { send, told, held, loses } = openTrial()
    loses('messages')
    send(group(1))
    loses('nothing')
    const opening = group(1, 'of another machine')
    held.push(opening)
    send(group(2))
    await expect.poll(() => told.at(-1)).toContain('Another machine has written for this house since')
    expect(held).toEqual([opening])
    expect(told.some((words) => words.startsWith('held'))).toBe(false)
  })

  test('is never told where the servers have lost what they had confirmed, and after a while that is said', async () => {
    const { send, told, held, loses } = openTrial([group(1), group(2)])
    loses('messages')
    send(group(3))
    held.length = 0
    await expect.poll(() => told, { timeout: 5_000 }).toContainEqual(expect.stringContaining('The stream has lost what it had confirmed'))
    expect(told).not.toContain('held 3')
  })

  test('is never told where another has written in its place', async () => {
    const { send, told, held, sender } = openTrial([group(1)])
    held.push(group(2, 'of another machine'))
    send(group(2))
    await expect.poll(() => told, { timeout: 5_000 }).toEqual([expect.stringContaining('Another machine has written for this house since')])
    sender.stop('ended')
    send(group(3))
    await wait(50)
    expect(told.filter((words) => words.startsWith('held'))).toEqual([])
  })
})
