import { createSocket } from 'node:dgram'
import { lookup } from 'node:dns/promises'
import { once } from 'node:events'
import { createServer } from 'node:http'
import type { AddressInfo } from 'node:net'
import { afterEach, beforeEach, describe, expect, it, test } from 'vitest'
import { openLookup } from '#people/devices/open-lookup'
import { isOpenAddress, whyNoPushAddress } from '#people/devices/push-address'
import { pushKeysOf } from '#people/devices/push-keys'
import { openPushPost } from '#people/devices/push-post'
import { openKeys, rotateKey } from '#runtime/disk/keys'
import { openPushService } from '#test/make/push-service'
import { openStage, type Stage } from '#test/stage'

const AT = 'https://push.example.org/send/abc'

describe('an address that a browser names', () => {
  test.each([
    ['in the clear', 'http://push.example.org/send/abc'],
    ['of this machine', 'https://localhost/send'],
    ['of this machine by its number', 'https://127.0.0.1/send'],
    ['of this machine written as one number', 'https://2130706433/send'],
    ['of this machine in hexadecimal', 'https://0x7f.1/send'],
    ['of this machine in IPv6', 'https://[::1]/send'],
    ['of an IPv4 within an IPv6', 'https://[::ffff:10.0.0.1]/send'],
    ['of a home network', 'https://192.168.1.10/send'],
    ['of a cloud’s own data', 'https://169.254.169.254/latest'],
    ['of a network of one’s own by a name', 'https://printer.local/send'],
    ['of this machine with a dot behind', 'https://localhost./send'],
    ['of a home’s own names', 'https://router.home.arpa/send'],
    ['of a network of one’s own with two dots behind', 'https://printer.local../send'],
    ['with a dot behind', 'https://push.example.org./send'],
    ['without a dot', 'https://intranet/send'],
    ['with another port', 'https://push.example.org:8443/send'],
    ['with a name and a word', 'https://a:b@push.example.org/send'],
    ['that is none', 'push'],
    ['that is too long', `https://push.example.org/${'x'.repeat(1000)}`],
  ])('%s is refused', (_, endpoint) => expect(whyNoPushAddress(endpoint)).toMatch(/cannot use/))

  test('on the open Internet is taken', () => {
    expect(whyNoPushAddress(AT)).toBeNull()
    expect(whyNoPushAddress('https://[2606:4700::1111]/send')).toBeNull()
  })

  test.each([
    '10.1.2.3',
    '172.31.255.255',
    '100.64.0.1',
    '0.0.0.0',
    '::',
    'fe80::1',
    'fd00::1',
    '64:ff9b::a00:1',
    '2002:a00:1::',
    'nothing',
  ])('%s is no address of the open Internet', (address) => expect(isOpenAddress(address)).toBe(false))
  test.each(['1.1.1.1', '172.32.0.1', '2606:4700::1111'])('%s is one', (address) => expect(isOpenAddress(address)).toBe(true))
})

describe('names that are never answered', () => {
  const keys = pushKeysOf({ kid: 'a key', seal: (words) => new Uint8Array(Buffer.alloc(32, words.length)) })

  it('are asked for all at once, and hold up no other look-up of the house', async () => {
    const asked = new Set<string>()
    const silent = createSocket('udp4').on('message', (question) => asked.add(nameIn(question)))
    silent.bind(0, '127.0.0.1')
    await once(silent, 'listening')
    const post = openPushPost({
      keys,
      subject: 'https://bench.example',
      nameServers: [`127.0.0.1:${silent.address().port}`],
      longestMs: 5_000,
    })
    const { subscription } = (await openPushService().then((service) => service.close().then(() => service))).browser()
    const names = Array.from({ length: 8 }, (_, at) => `silent-${at}.example`)
    const order: string[] = []
    const sent = names.map(async (name) => {
      const answer = await post.send(
        { ...subscription, endpoint: `https://${name}/push` },
        { words: '{}', ttlSeconds: 60, isUrgent: true, topic: 'lot-7' },
      )
      order.push(name)
      return answer
    })
    // What the process's own threads look up, which mail and files are read by too.
    await lookup('localhost')
    order.push('localhost')
    expect(new Set(await Promise.all(sent))).toEqual(new Set(['not reached']))
    expect(order[0]).toBe('localhost')
    expect([...asked].sort()).toEqual(names.sort())
    silent.close()
  })

  it.each([
    ['leads to this machine', '127.0.0.1', /closed network/],
    ['leads into a home network', '192.168.1.10', /closed network/],
    ['leads to the open Internet', '93.184.215.14', null],
  ])('one that %s', async (_, leadsTo, refused) => {
    const server = createSocket('udp4').on('message', (question, { port }) => server.send(answerTo(question, leadsTo), port, '127.0.0.1'))
    server.bind(0, '127.0.0.1')
    await once(server, 'listening')
    const look = openLookup({ longestMs: 2_000, servers: [`127.0.0.1:${server.address().port}`] })
    const found = await new Promise((resolve) => look('push.example.org', {}, (fault, all) => resolve(fault ? fault.message : all)))
    if (refused) expect(found).toMatch(refused)
    else expect(found).toEqual([{ address: leadsTo, family: 4 }])
    server.close()
  })
})

/** The name that a question for a name server asks for (RFC 1035, 4.1.2). */
function nameIn(question: Buffer): string {
  const labels: string[] = []
  for (let at = 12; question[at]; at += 1 + (question[at] ?? 0))
    labels.push(question.toString('latin1', at + 1, at + 1 + (question[at] ?? 0)))
  return labels.join('.')
}

/** An answer to a question: one IPv4 address, and none of IPv6. */
function answerTo(question: Buffer, address: string): Buffer {
  let end = 12
  while (question[end]) end += 1 + (question[end] ?? 0)
  const [asked, isFour] = [question.subarray(12, end + 5), question.readUInt16BE(end + 1) === 1]
  const head = Buffer.from([question[0] ?? 0, question[1] ?? 0, 0x81, 0x80, 0, 1, 0, isFour ? 1 : 0, 0, 0, 0, 0])
  const found = Buffer.from([0xc0, 12, 0, 1, 0, 1, 0, 0, 0, 60, 0, 4, ...address.split('.').map(Number)])
  return Buffer.concat(isFour ? [head, asked, found] : [head, asked])
}

describe('a message', () => {
  let service: Awaited<ReturnType<typeof openPushService>>
  const keys = pushKeysOf({ kid: 'a key', seal: (words) => new Uint8Array(Buffer.alloc(32, words.length)) })
  const message = { words: '{"title":"Outbid on lot 7"}', ttlSeconds: 60, isUrgent: true, topic: 'lot-7' }
  beforeEach(async () => {
    service = await openPushService()
  })
  afterEach(() => service.close())

  it('is sealed for its browser, signed for its service, and says how long it is good', async () => {
    const browser = service.browser()
    const post = openPushPost({ keys, subject: 'https://bench.example', allowed: service.origin })
    expect(await post.send(browser.subscription, message)).toBe('taken')
    expect(service.came).toMatchObject([
      { ttl: 60, topic: 'lot-7', urgency: 'high', sender: { key: keys.publicKey, subject: 'https://bench.example' } },
    ])
    const [{ body }] = service.came as [(typeof service.came)[number]]
    expect(body.toString('latin1')).not.toContain('Outbid')
    expect(browser.read(body)).toEqual({ title: 'Outbid on lot 7' })
    expect(() => service.browser().read(body)).toThrow()
  })

  it('tells a device that is gone from a service that is busy, and follows no redirect', async () => {
    const { subscription, path } = service.browser()
    const post = openPushPost({ keys, subject: 'https://bench.example', allowed: service.origin })
    service.answer(path, 404, 410, 429, 503, 403, 307)
    const answers = []
    for (let at = 0; at < 6; at++) answers.push(await post.send(subscription, message))
    expect(answers).toEqual(['gone', 'gone', 'not reached', 'not reached', 'refused', 'refused'])
    expect(service.came).toEqual([])
  })

  it('is not sent to this machine without the setting of a test, nor kept waiting by a service that says nothing', async () => {
    const { subscription } = service.browser()
    expect(await openPushPost({ keys, subject: 'https://bench.example' }).send(subscription, message)).toBe('refused')
    expect(service.came).toEqual([])
    const silent = createServer(() => {})
    await new Promise<void>((resolve) => silent.listen(0, '127.0.0.1', resolve))
    const origin = `http://127.0.0.1:${(silent.address() as AddressInfo).port}`
    const post = openPushPost({ keys, subject: 'https://bench.example', allowed: origin, longestMs: 50 })
    expect(await post.send({ ...subscription, endpoint: `${origin}/push` }, message)).toBe('not reached')
    silent.closeAllConnections()
    silent.close()
  })
})

describe('devices', () => {
  let stage: Stage
  beforeEach(() => {
    stage = openStage()
  })
  afterEach(() => stage.close())
  const device = async (endpoint = AT) => {
    const service = await openPushService()
    await service.close()
    return { ...service.browser().subscription, endpoint, key: pushKeysOf(stage.house.keys).publicKey }
  }

  it('are each person’s own, are told by name, and can be deleted by nobody else', async () => {
    const [ada, ben] = [await stage.as('bidder', 'Ada'), await stage.as('bidder', 'Ben')]
    await ada.told.addDevice(await device())
    const { devices } = await ada.told.mine()
    expect(devices).toMatchObject([{ name: 'Firefox on Linux', toldAt: null, tail: '.org/send/abc'.slice(-12) }])
    expect(JSON.stringify(devices)).not.toContain('https://')
    await expect(ben.told.removeDevice({ id: devices[0]?.id ?? '' })).rejects.toThrow('already been removed')
    expect((await ada.told.mine()).devices).toHaveLength(1)
    // The same browser, signed in as somebody else.
    await ben.told.addDevice(await device())
    expect([(await ada.told.mine()).devices.length, (await ben.told.mine()).devices.length]).toEqual([0, 1])
    await ben.told.removeDevice({ id: (await ben.told.mine()).devices[0]?.id ?? '' })
    expect((await ben.told.mine()).devices).toEqual([])
  })

  it('are refused at closed addresses, with keys of another house, and past ten', async () => {
    const ada = await stage.as('bidder', 'Ada')
    await expect(ada.told.addDevice(await device('https://10.0.0.1/send'))).rejects.toThrow('cannot use')
    await expect(ada.told.addDevice({ ...(await device()), key: `B${'A'.repeat(86)}` })).rejects.toThrow('a new key')
    await expect(ada.told.addDevice({ ...(await device()), p256dh: `B${'A'.repeat(86)}` })).rejects.toThrow('Switch messages off and on')
    expect((await ada.told.mine()).devices).toEqual([])
    await expect(ada.told.addDevice({ ...(await device()), auth: 'short' })).rejects.toThrow('cannot use')
    for (let at = 0; at < 10; at++) await ada.told.addDevice(await device(`${AT}${at}`))
    await expect(ada.told.addDevice(await device(`${AT}11`))).rejects.toThrow('Ten devices')
    await ada.told.addDevice(await device(`${AT}3`))
    await expect(stage.visitor().told.mine()).rejects.toThrow()
  })

  it('hear by a key that stays when the house opens again, and is another when its keys are changed', () => {
    const dir = `${stage.dir}/keys`
    const before = pushKeysOf(openKeys(dir)).publicKey
    expect(before).toBe(pushKeysOf(stage.house.keys).publicKey)
    rotateKey(dir, Date.now() + 1)
    expect(pushKeysOf(openKeys(dir)).publicKey).not.toBe(before)
  })
})
