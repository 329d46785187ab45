import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { MINUTE, SECOND } from '#kernel/instant'
import { closeDueLots } from '#sale/closings/close-due.service'
import { patternsIn } from '#sale/fairness/patterns.rules'
import { noteOrigin, TRACES_KEPT, traceSweep } from '#sale/fairness/traces.service'
import { REMIND_BEFORE, reminderSweep } from '#sale/letters/reminders.service'
import { gathered } from '#test/make/gathered'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

describe('being connected', () => {
  it.each([
    ['household', 'You told us you are connected'],
    ['worked', 'You told us you are connected'],
  ] as const)('"%s" keeps a bidder from the lot, in words', async (kind, words) => {
    const [first, second] = [await makeOpenLot(stage), await makeOpenLot(stage, { tag: 'TERN-04' })]
    const ada = await makeBidder(stage, 'Ada')
    await ada.caller.bidding.disclose({ lot: first.number, kind, words: 'I wound its coils.' })
    await expect(ada.bid(first.number, '50')).rejects.toThrow(words)
    await expect(ada.bid(second.number, '50')).resolves.toMatchObject({ leads: true })
  })

  it('with the sale as a whole keeps them from every lot, also out of an either-or', async () => {
    const [first, second] = [await makeOpenLot(stage), await makeOpenLot(stage, { tag: 'TERN-04' })]
    const ada = await makeBidder(stage, 'Ada')
    await ada.caller.bidding.disclose({ lot: 0, kind: 'household', words: 'The host is my brother.' })
    await expect(ada.bid(first.number, '50')).rejects.toThrow('connected')
    expect(await ada.caller.eitherOr.lots()).toEqual([])
    const links = [first, second].map(({ number }) => ({ lot: number, maximum: '50' }))
    await expect(ada.caller.eitherOr.make({ key: 'not-for-the-family', mostWins: 1, cap: '', links })).rejects.toThrow('connected')
  })

  it('as a giver bars nobody, and "not connected" neither; how has to be said', async () => {
    const { number } = await makeOpenLot(stage)
    const ada = await makeBidder(stage, 'Ada')
    await expect(ada.caller.bidding.disclose({ lot: 0, kind: 'gave', words: '' })).rejects.toThrow('in a few words')
    await ada.caller.bidding.disclose({ lot: 0, kind: 'gave', words: 'Fourteen crystals.' })
    await ada.caller.bidding.disclose({ lot: number, kind: 'none', words: '' })
    await expect(ada.bid(number, '50')).resolves.toMatchObject({ leads: true })
    expect((await ada.caller.bidding.mySide({ lot: number })).disclosed.map(({ kind }) => kind)).toEqual(['gave', 'none'])
  })
})

describe('asking a bid back', () => {
  it('changes nothing and shows to the maker, who can void it with another of the staff', async () => {
    const { number } = await makeOpenLot(stage)
    const ada = await makeBidder(stage, 'Ada')
    await expect(ada.caller.bidding.askRetraction({ lot: number, reason: 'A slip.' })).rejects.toThrow('You have not bid')
    await ada.bid(number, '50')
    await ada.caller.bidding.askRetraction({ lot: number, reason: 'I meant five.' })
    expect(await stage.visitor().bidding.frame({ lot: number })).toMatchObject({ bids: 1 })
    expect(await (await stage.as('maker')).bidding.patterns()).toMatchObject([
      { kind: 'retractions', people: [{ name: 'Ada' }], evidence: [{ lot: number, words: 'I meant five.' }] },
    ])
  })
})

describe('patterns that deserve a look', () => {
  const bid = (personId: string, lot: number, sequence: number, maximumMinor: number) => ({ personId, lot, sequence, maximumMinor })
  const seen = { traces: [], bids: [], retractions: [], connected: [] }
  const pushed = [bid('a', 1, 1, 50), bid('b', 1, 2, 90), bid('a', 1, 3, 80), bid('b', 2, 1, 90), bid('a', 2, 2, 85)]

  it('one bidder who pushes one other on two lots and leads nowhere is shown with every lot', () => {
    expect(patternsIn({ ...seen, bids: pushed })).toEqual([
      {
        kind: 'pushing',
        people: ['a', 'b'],
        evidence: [
          { lot: 1, bids: 2, words: '2 bids, and the price that the other pays.' },
          { lot: 2, bids: 1, words: 'One bid, and the price that the other pays.' },
        ],
      },
    ])
  })

  it.each([
    ['on one lot only', pushed.slice(0, 3)],
    ['who wins another', [...pushed, bid('a', 3, 1, 40)]],
    ['who bids on more than those', [...pushed, bid('a', 3, 1, 40), bid('c', 3, 2, 60)]],
  ])('one %s is not', (_, bids) => {
    expect(patternsIn({ ...seen, bids })).toEqual([])
  })

  it('accounts of one browser are shown together once, with the lots on which more than one of them bid', () => {
    const traces = ['a', 'b'].flatMap((personId) => [1, 2].map((lot) => ({ personId, lot, kind: 'device' as const, hash: 'x' })))
    const found = patternsIn({ ...seen, traces, bids: [bid('a', 1, 1, 50), bid('b', 1, 2, 60), bid('a', 2, 1, 50)] })
    expect(found).toEqual([{ kind: 'device', people: ['a', 'b'], evidence: [{ lot: 1, bids: 2, words: '2 of them bid on it.' }] }])
  })

  it('somebody connected who bid before saying so is shown', () => {
    const connected = [{ personId: 'a', lot: null, kind: 'household' as const, words: 'His sister.' }]
    expect(patternsIn({ ...seen, connected, bids: [bid('a', 1, 1, 50)] })).toMatchObject([{ kind: 'connected', evidence: [{ lot: 1 }] }])
    expect(patternsIn({ ...seen, connected })).toEqual([])
  })
})

describe('what is kept of where a bid came from', () => {
  it('are hashes that nobody can turn back, enough to see that two are the same, and only until the campaign’s term', async () => {
    const { number } = await makeOpenLot(stage)
    const [ada, ben] = [await makeBidder(stage, 'Ada'), await makeBidder(stage, 'Ben')]
    for (const { actor } of [ada, ben])
      await stage.command((turn) => noteOrigin(turn, actor.personId, number, { address: '198.51.100.7', browser: 'one-and-the-same' }))
    await ada.bid(number, '50')
    await ben.bid(number, '70')
    const kept = JSON.stringify(stage.db.all('SELECT * FROM bid_trace'))
    expect(kept).not.toMatch(/198\.51|192\.0\.2|one-and-the-same|one browser/)
    const maker = await stage.as('maker')
    expect((await maker.bidding.patterns()).map(({ kind }) => kind)).toEqual(['device', 'address'])
    const term = (await maker.campaign.whole())?.streamClosesAt ?? 0
    expect(traceSweep.nextAt(stage.sight())).toBe(term + TRACES_KEPT)
    stage.clock.set(term + TRACES_KEPT - 1)
    await stage.command(traceSweep.run)
    expect(stage.db.all('SELECT * FROM bid_trace')).not.toEqual([])
    stage.clock.set(term + TRACES_KEPT)
    await stage.command(traceSweep.run)
    expect(stage.db.all('SELECT * FROM bid_trace')).toEqual([])
    expect(traceSweep.nextAt(stage.sight())).toBeNull()
  })

  it('is written again after a command that was undone, and once after that', async () => {
    const { number } = await makeOpenLot(stage)
    const ada = await makeBidder(stage, 'Ada')
    const origin = { address: '198.51.100.7', browser: '' }
    const traces = () => stage.db.all('SELECT * FROM bid_trace').length
    const undone = stage.command((turn) => {
      noteOrigin(turn, ada.actor.personId, number, origin)
      throw new Error('undone')
    })
    await expect(undone).rejects.toThrow('undone')
    expect(traces()).toBe(0)
    for (let times = 0; times < 3; times++) await stage.command((turn) => noteOrigin(turn, ada.actor.personId, number, origin))
    expect(traces()).toBe(1)
  })

  it('leaves out an address that is the house’s own machine or a proxy that the settings do not name', async () => {
    const { number } = await makeOpenLot(stage)
    const ada = await makeBidder(stage, 'Ada')
    for (const address of ['', '::1', '127.0.0.1', '::ffff:127.0.0.1'])
      await stage.command((turn) => noteOrigin(turn, ada.actor.personId, number, { address, browser: '' }))
    expect(stage.db.all('SELECT * FROM bid_trace')).toEqual([])
  })
})

describe('too many bids', () => {
  it('from one account are turned away before any work is done, and taken again after a while', async () => {
    const { number } = await makeOpenLot(stage)
    const [ada, ben] = [await makeBidder(stage, 'Ada'), await makeBidder(stage, 'Ben')]
    const send = (index: number) => ada.bid(number, '1', `a-flood-of-bids-${String(index).padStart(6, '0')}`)
    const all = await Promise.allSettled(Array.from({ length: 700 }, (_, index) => send(index)))
    const words = all.map((one) => (one.status === 'rejected' ? String(one.reason.message) : 'taken'))
    expect(words.filter((one) => one.includes('too many bids at once'))).toHaveLength(100)
    await expect(ben.bid(number, '50')).resolves.toMatchObject({ leads: true })
    await expect(send(999)).rejects.toThrow('too many bids at once')
    stage.clock.pass(SECOND)
    await expect(ada.bid(number, '60')).resolves.toMatchObject({ leads: true })
  })
})

describe('a reminder', () => {
  it('goes out once, half an hour before the closing as it then is, and never after it', async () => {
    const { number, closesAt } = await makeOpenLot(stage)
    const [ada, ben] = [await makeBidder(stage, 'Ada'), await makeBidder(stage, 'Ben')]
    await ada.caller.bidding.remind({ lot: number, wanted: true })
    await ben.caller.bidding.remind({ lot: number, wanted: true })
    await ben.caller.bidding.remind({ lot: number, wanted: false })
    expect(reminderSweep.nextAt(stage.sight())).toBe(closesAt - REMIND_BEFORE)
    await (await stage.as('host')).bidding.extend({ lot: number, minutes: 10, reason: 'A guest.' })
    expect(reminderSweep.nextAt(stage.sight())).toBe(closesAt - REMIND_BEFORE + 10 * MINUTE)
    stage.clock.set(closesAt - REMIND_BEFORE + 10 * MINUTE)
    await stage.command(reminderSweep.run)
    await stage.command(reminderSweep.run)
    const sent = (await gathered(stage)).filter(({ subject }) => subject.includes('closes at'))
    expect(sent.map(({ recipient }) => recipient)).toEqual([ada.actor.email])
    expect(sent[0]?.body).toContain('You asked for this one email.')
    expect(reminderSweep.nextAt(stage.sight())).toBeNull()
  })

  it('that comes too late is not sent, and a lot that has ended takes none', async () => {
    const { number, closesAt } = await makeOpenLot(stage)
    const ada = await makeBidder(stage, 'Ada')
    await ada.caller.bidding.remind({ lot: number, wanted: true })
    stage.clock.set(closesAt)
    await stage.command(closeDueLots)
    await stage.command(reminderSweep.run)
    expect((await gathered(stage)).filter(({ subject }) => subject.includes('closes at'))).toEqual([])
    await expect(ada.caller.bidding.remind({ lot: number, wanted: true })).rejects.toThrow('no closing to come')
  })
})
