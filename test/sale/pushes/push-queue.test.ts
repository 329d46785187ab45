import { afterEach, describe, expect, it } from 'vitest'
import type { PushAnswer } from '#people/devices/push-post'
import { openPushQueue, type PushQueue } from '#sale/pushes/push-queue'

const soon = () => new Promise((resolve) => setImmediate(() => setImmediate(resolve)))
const device = (personId: string, number: number, service = `${personId}.example`) => ({
  ...{ id: `${personId} ${number}`, personId, endpoint: `https://${service}/${number}`, p256dh: '', auth: '' },
  ...{ key: '', name: 'Firefox on Linux', at: 0, toldAt: null },
})

describe('the queue of messages to devices', () => {
  let pushes: PushQueue
  afterEach(() => pushes.stop())

  /** Push services of which some say nothing until they are let go. */
  function open(hangs: (endpoint: string) => boolean) {
    const asked: string[] = []
    let held: ((answer: PushAnswer) => void)[] = []
    pushes = openPushQueue({
      againAfterMs: [],
      post: {
        send({ endpoint }) {
          asked.push(endpoint)
          return hangs(endpoint) ? new Promise((resolve) => held.push(resolve)) : Promise.resolve('taken')
        },
      },
    })
    const put = (one: ReturnType<typeof device>, topic = 'lot-1') =>
      pushes.put({ device: one, topic, make: () => ({ words: '{}', ttlSeconds: 60, isUrgent: true, topic }), became: () => {} })
    return {
      ...{ asked, put },
      giveUp: () => {
        const all = held
        held = []
        for (const answer of all) answer('not reached')
      },
    }
  }
  const hanging = (endpoint: string) => !endpoint.includes('honest')
  const tenOf = (personId: string) => Array.from({ length: 10 }, (_, number) => device(personId, number))

  it('goes on for everybody else while thirty devices of three people say nothing', async () => {
    const { asked, put } = open(hanging)
    for (const one of ['a', 'b', 'c'].flatMap(tenOf)) put(one)
    await soon()
    put(device('honest', 1))
    await soon()
    expect(asked.filter(hanging)).toHaveLength(6)
    expect(asked.at(-1)).toBe('https://honest.example/1')
  })

  it('has room for others although many people’s devices said nothing the last time', async () => {
    const { asked, put, giveUp } = open(hanging)
    const people = Array.from({ length: 30 }, (_, number) => `p${number}`)
    for (const one of people.flatMap(tenOf)) put(one)
    await soon()
    expect(asked).toHaveLength(24)
    // Each of them is found out once; from then on they share eight lanes.
    for (let turn = 0; turn < 6; turn++) {
      giveUp()
      await soon()
    }
    put(device('honest', 1))
    await soon()
    expect(asked.at(-1)).toBe('https://honest.example/1')
  })

  it('asks one service by eight at most, whoever is told there, and the others beside it', async () => {
    const { asked, put } = open((endpoint) => endpoint.includes('slow'))
    for (let person = 0; person < 12; person++) put(device(`p${person}`, 1, 'slow.example'))
    put(device('honest', 1))
    await soon()
    expect(asked.filter((endpoint) => endpoint.includes('slow'))).toHaveLength(8)
    expect(asked).toContain('https://honest.example/1')
  })

  it('gives turns by person: who has much to be told does not go first with all of it', async () => {
    const { asked, put } = open(() => false)
    for (const one of tenOf('a')) put(one)
    put(device('b', 1))
    await soon()
    await pushes.settled()
    expect(asked.indexOf('https://b.example/1')).toBeLessThan(3)
    expect(asked).toHaveLength(11)
  })
})
