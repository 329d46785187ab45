import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { MINUTE, SECOND } from '#kernel/instant'
import { addDevice } from '#people/devices/devices.service'
import { pushKeysOf } from '#people/devices/push-keys'
import { openPushPost } from '#people/devices/push-post'
import { openLog } from '#runtime/settings/log'
import { closeDueLots } from '#sale/closings/close-due.service'
import { openPusher, type Pusher } from '#sale/pushes/pusher'
import { gathered } from '#test/make/gathered'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { openPushService } from '#test/make/push-service'
import { formKey } from '#test/make/sold'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
let service: Awaited<ReturnType<typeof openPushService>>
let pusher: Pusher
let lot: Awaited<ReturnType<typeof makeOpenLot>>
let ada: Awaited<ReturnType<typeof makeBidder>>
let ben: typeof ada
beforeEach(async () => {
  stage = openStage()
  service = await openPushService()
  lot = await makeOpenLot(stage)
  ada = await makeBidder(stage, 'Ada')
  ben = await makeBidder(stage, 'Ben')
  pusher = open()
})
afterEach(async () => {
  pusher.stop()
  await service.close()
  stage.close()
})

function open(): Pusher {
  const { sight, queue, keys } = stage.house
  const post = openPushPost({ keys: pushKeysOf(keys), subject: 'https://bench.example', allowed: service.origin })
  const made = openPusher({ sight, queue, post, log: openLog('silent'), againAfterMs: [5, 5] })
  stage.house.hearFirst(made.heard)
  return made
}

async function switchOn(one: typeof ada, wish: { lot: number | null } = { lot: null }) {
  const browser = service.browser()
  const key = pushKeysOf(stage.house.keys).publicKey
  await stage.command((turn) => addDevice(turn, one.actor, { ...browser.subscription, key }, 'Firefox on Linux', service.origin))
  await one.caller.told.want({ ...wish, wanted: true })
  return {
    browser,
    shown: () => service.came.filter(({ path }) => path === browser.path).map(({ body }) => browser.read(body)),
  }
}
const settle = async () => {
  pusher.look()
  await new Promise((resolve) => setImmediate(resolve))
  await pusher.settled()
}
const mailTo = async (one: typeof ada) => (await gathered(stage)).filter(({ recipient }) => recipient === one.actor.email)

describe('a device', () => {
  it('hears that its owner’s purchase fell through, as what it is', async () => {
    const phone = await switchOn(ada)
    const other = await switchOn(ben)
    await ada.bid(lot.number, '60')
    stage.clock.set(lot.closesAt + SECOND)
    await stage.command(closeDueLots)
    await settle()
    const before = [phone.shown().length, other.shown().length]
    await (await stage.as('treasurer')).booking.fallThrough({ key: formKey(), lot: lot.number, why: 'Never paid.' })
    await settle()
    expect(phone.shown().slice(before[0])).toMatchObject([{ title: `Your purchase of lot ${lot.number} fell through`, url: '/me' }])
    expect(other.shown()).toHaveLength(before[1] ?? 0)
  })

  it('hears at once that its owner was outbid, and then no mail says it again', async () => {
    const { shown } = await switchOn(ada)
    await ada.bid(lot.number, '40')
    await ben.bid(lot.number, '90')
    await settle()
    expect(shown()).toMatchObject([
      {
        title: 'Outbid on lot 1',
        body: expect.stringContaining('somebody else leads at £42.00'),
        url: '/lots/1',
        tag: 'lot-1',
      },
    ])
    expect(await mailTo(ada)).toEqual([])
    expect((await ada.caller.told.mine()).devices).toMatchObject([{ toldAt: stage.clock.now() }])
  })

  it('is told nothing of anybody else: no name, alias, paddle or maximum', async () => {
    const { shown } = await switchOn(ada)
    await ada.bid(lot.number, '40')
    const { alias } = await ben.bid(lot.number, '93')
    await settle()
    const words = JSON.stringify(shown())
    for (const secret of ['Ben', alias, '93', ben.actor.email, ada.actor.email, 'Ada']) expect(words).not.toContain(secret)
    expect(Math.max(...service.came.map(({ bytes }) => bytes))).toBeLessThanOrEqual(4096)
  })

  it('that cannot be reached leaves it to the mail', async () => {
    const { browser } = await switchOn(ada)
    service.answer(browser.path, 503, 503, 503)
    await ada.bid(lot.number, '40')
    await ben.bid(lot.number, '90')
    await settle()
    await new Promise((resolve) => setTimeout(resolve, 60))
    expect(service.came).toEqual([])
    expect(await mailTo(ada)).toMatchObject([{ subject: expect.stringContaining('outbid') }])
  })

  it('is tried again, and only while it is still so', async () => {
    const { browser, shown } = await switchOn(ada)
    service.answer(browser.path, 503)
    await ada.bid(lot.number, '40')
    await ben.bid(lot.number, '90')
    await settle()
    while (shown().length === 0) await new Promise((resolve) => setTimeout(resolve, 5))
    expect(shown()).toHaveLength(1)
    pusher.stop()
    pusher = open()
    service.answer(browser.path, 503)
    await ada.bid(lot.number, '150')
    await ben.bid(lot.number, '200')
    await settle()
    await ada.bid(lot.number, '300')
    await new Promise((resolve) => setTimeout(resolve, 60))
    expect(shown()).toHaveLength(1)
  })

  it('that is gone for good is forgotten', async () => {
    const { browser } = await switchOn(ada)
    service.answer(browser.path, 410)
    await ada.bid(lot.number, '40')
    await ben.bid(lot.number, '90')
    await settle()
    expect((await ada.caller.told.mine()).devices).toEqual([])
  })

  it('hears nothing without consent, and none of another lot', async () => {
    const mine = await switchOn(ada, { lot: lot.number })
    const other = await makeOpenLot(stage, { tag: 'TERN-04' })
    await ada.bid(other.number, '40')
    await ben.bid(other.number, '90')
    await ada.caller.told.want({ lot: lot.number, wanted: false })
    await ada.bid(lot.number, '40')
    await ben.bid(lot.number, '90')
    await settle()
    expect(mine.shown()).toEqual([])
    expect(await mailTo(ada)).toHaveLength(1)
  })

  it('of somebody who only follows a lot hears of its last minutes by its own rule, once, and that they begin again', async () => {
    const { shown } = await switchOn(await makeBidder(stage, 'Cleo'), { lot: lot.number })
    stage.clock.set(lot.closesAt - 121 * SECOND)
    await settle()
    expect(shown()).toEqual([])
    stage.clock.set(lot.closesAt - 119 * SECOND)
    await settle()
    await settle()
    expect(shown().map(({ title }) => title)).toEqual(['Lot 1: two minutes left'])
    stage.clock.set(lot.closesAt - 30 * SECOND)
    await ada.bid(lot.number, '40')
    await settle()
    expect(shown().map(({ title }) => title)).toEqual(['Lot 1: two minutes left', 'Lot 1: two minutes left again'])
    expect(shown().at(-1)?.body).toContain('It stands at £20.00.')
    expect(service.came.at(-1)).toMatchObject({ ttl: 120, topic: 'clock-1', urgency: 'high' })
  })

  it('hears who won and who did not, and what a void means for who leads now', async () => {
    const [hers, his] = [await switchOn(ada), await switchOn(ben)]
    await ada.bid(lot.number, '40')
    const { alias } = await ben.bid(lot.number, '90')
    await settle()
    await (await stage.as('host')).bidding.askVoid({ lot: lot.number, alias, reason: 'Bid in error.' })
    await (await stage.as('maker')).bidding.agreeVoid({ lot: lot.number, alias, askedAt: stage.clock.now() })
    await settle()
    expect(his.shown().at(-1)?.title).toBe('Your bids on lot 1 were voided')
    expect(hers.shown().at(-1)).toMatchObject({ title: 'You lead lot 1 again', body: expect.stringContaining('bound by your bid') })
    const cleo = await makeBidder(stage, 'Cleo')
    const its = await switchOn(cleo)
    await cleo.bid(lot.number, '30')
    stage.clock.set(lot.closesAt + 20 * MINUTE)
    await stage.command(closeDueLots)
    await settle()
    expect(hers.shown().at(-1)).toMatchObject({ title: 'You won lot 1', url: '/me/won/1' })
    expect(its.shown().at(-1)?.title).toBe('You did not win lot 1')
    expect(his.shown().filter(({ title }) => title.includes('win'))).toEqual([])
    expect((await mailTo(ada)).some(({ subject }) => subject.startsWith('You won lot 1'))).toBe(true)
  })
})

describe('a house that opens again', () => {
  it('tells nothing a second time, and what it could not tell comes by mail', async () => {
    const { shown } = await switchOn(ada)
    pusher.stop()
    await ada.bid(lot.number, '40')
    await ben.bid(lot.number, '90')
    pusher = open()
    await settle()
    expect(shown()).toEqual([])
    expect(await mailTo(ada)).toHaveLength(1)
  })

  it('forgets devices that were made for a key it has no more', async () => {
    await switchOn(ada)
    stage.db.run(`UPDATE push_device SET key = 'another'`)
    pusher.stop()
    pusher = open()
    await settle()
    expect((await ada.caller.told.mine()).devices).toEqual([])
  })
})
