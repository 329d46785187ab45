import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { MINUTE } from '#kernel/instant'
import type { Role } from '#kernel/role'
import { setRole } from '#people/people/people.service'
import { checkHistory } from '#sale/history/check-history.rules'
import { readHistory } from '#sale/history/history.service'
import { sayLeaf } from '#sale/history/leaf-words.rules'
import { gathered } from '#test/make/gathered'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { NOON, openStage, type Stage } from '#test/stage'
import { verifyHistory } from '#test/verifier/verify-history'

let stage: Stage
let number: number
let alias: string
beforeEach(async () => {
  stage = openStage()
  for (const role of ['maker', 'host', 'treasurer'] as const) await stage.actor(role)
  stage.clock.pass(MINUTE)
  ;({ number } = await makeOpenLot(stage))
  stage.clock.pass(MINUTE)
  await (await makeBidder(stage, 'Ada')).bid(number, '60')
  ;({ alias } = await (await makeBidder(stage, 'Ben')).bid(number, '400'))
})
afterEach(() => stage.close())

const ask = async (role: Role, name?: string) =>
  (await stage.as(role, name)).bidding.askVoid({ lot: number, alias, reason: 'Bid in error.' })
/** When what waits was asked for, as a page shows it. */
const askedAt = async () => (await requests('maker')).find((one) => one.alias === alias)?.at ?? 0
const agree = async (role: Role, name?: string, read?: number) =>
  (await stage.as(role, name)).bidding.agreeVoid({ lot: number, alias, askedAt: read ?? (await askedAt()) })
const requests = async (role: Role, name?: string) => (await stage.as(role, name)).bidding.voidRequests({ lot: number })
const keys = () => stage.house.keys.jwks().keys.flatMap(({ x }) => x ?? [])
const history = () => readHistory(stage.sight(), number)
const lastLeaf = () => history().leaves.at(-1)

describe('the two who void a bid', () => {
  it('both stand in the history with their role and the time, in words and for both checkers', async () => {
    await ask('host')
    stage.clock.pass(3 * MINUTE)
    await agree('treasurer')
    expect(lastLeaf()).toMatchObject({
      kind: 'voided',
      by: 'two of the staff',
      asked: { by: 'host', at: new Date(NOON + 2 * MINUTE).toISOString() },
      agreed: { by: 'treasurer', at: new Date(NOON + 5 * MINUTE).toISOString() },
      at: new Date(NOON + 5 * MINUTE).toISOString(),
    })
    const leaf = lastLeaf()
    expect(leaf && sayLeaf(leaf, 'GBP')).toContain('asked for by the host at 12:02 UTC, agreed to by the treasurer at 12:05 UTC')
    expect(checkHistory(history()).filter(({ isSound }) => !isSound)).toEqual([])
    verifyHistory(JSON.parse(JSON.stringify(history())), keys())
  })

  it('are named to everybody who watches the lot, and no letter says any more that the bids of the voided stand', async () => {
    await ask('host')
    await agree('treasurer')
    expect(await stage.visitor().bidding.frame({ lot: number })).toMatchObject({ voidedAliases: [alias] })
    expect((await stage.visitor().bidding.frames()).lots).toMatchObject([{ number, voidedAliases: [alias] }])
    // What was written before has gone out.
    const before = (await gathered(stage)).length
    stage.db.run('UPDATE letter SET sent_at = at')
    await (await stage.as('maker')).bidding.correct({ lot: number, words: 'The case is ash, not oak.' })
    expect((await gathered(stage)).slice(before).map(({ recipient }) => recipient)).toEqual([expect.stringContaining('ada')])
  })

  it('void nobody a second time, and whoever was voided cannot bid on that lot again', async () => {
    const before = lastLeaf()
    await ask('host')
    await agree('treasurer')
    expect(lastLeaf()).not.toEqual(before)
    await expect(ask('host')).rejects.toThrow(`The bids of ${alias} have already been voided.`)
    await expect((await makeBidder(stage, 'Ben')).bid(number, '500', 'another-form-of-ben')).rejects.toThrow(
      'Your bids on this lot were voided',
    )
  })

  it('the second cannot be somebody who was given a role after the lot had opened', async () => {
    await ask('maker')
    await stage.command((turn) => setRole(turn, { email: 'friend@elsewhere.example', role: 'host', name: 'Friend' }))
    const friend = await stage.actorAt('friend@elsewhere.example')
    await expect(stage.callerOf(friend).bidding.agreeVoid({ lot: number, alias, askedAt: await askedAt() })).rejects.toThrow(
      'before this lot opened',
    )
    expect(lastLeaf()?.kind).toBe('bid')
    await agree('treasurer')
    expect(lastLeaf()?.kind).toBe('voided')
  })

  it('nor can the first: the new account would ask, and the old one agree', async () => {
    await stage.command((turn) => setRole(turn, { email: 'friend@elsewhere.example', role: 'host', name: 'Friend' }))
    const friend = await stage.actorAt('friend@elsewhere.example')
    const asking = stage.callerOf(friend).bidding.askVoid({ lot: number, alias, reason: 'In error.' })
    await expect(asking).rejects.toThrow('before this lot opened')
  })

  it('another role that was given since counts from then, and the same role given again from when it was first given', async () => {
    await ask('maker')
    await stage.command((turn) => setRole(turn, { email: 'treasurer@treasurer.example', role: 'treasurer' }))
    await stage.command((turn) => setRole(turn, { email: 'host@host.example', role: 'treasurer' }))
    const changed = await stage.actorAt('host@host.example')
    await expect(stage.callerOf(changed).bidding.agreeVoid({ lot: number, alias, askedAt: await askedAt() })).rejects.toThrow(
      'before this lot opened',
    )
    await agree('treasurer')
    expect(lastLeaf()?.kind).toBe('voided')
  })

  it('are not one mailbox under two addresses', async () => {
    const more = openStage()
    const [one, two] = ['ada@bench.example', 'ada+second@bench.example']
    await more.command((turn) => setRole(turn, { email: one, role: 'maker', name: 'Ada' }))
    await more.command((turn) => setRole(turn, { email: two, role: 'host', name: 'Ada again' }))
    const open = await makeOpenLot(more)
    const bid = await (await makeBidder(more, 'Ben')).bid(open.number, '400')
    const input = { lot: open.number, alias: bid.alias }
    await more.callerOf(await more.actorAt(two)).bidding.askVoid({ ...input, reason: 'In error.' })
    await expect(more.callerOf(await more.actorAt(one)).bidding.agreeVoid({ ...input, askedAt: more.clock.now() })).rejects.toThrow(
      'share a mailbox',
    )
    more.close()
  })

  it('are one no more when the first is not of the staff by then', async () => {
    await ask('host')
    await stage.command((turn) => setRole(turn, { email: 'host@host.example', role: 'bidder' }))
    await expect(agree('treasurer')).rejects.toThrow('no longer staff')
    expect(lastLeaf()?.kind).toBe('bid')
  })

  it('each prove at that time who they are', async () => {
    const input = { lot: number, alias }
    await expect((await stage.unconfirmed('host')).bidding.askVoid({ ...input, reason: 'In error.' })).rejects.toThrow('First confirm')
    await ask('host')
    await expect((await stage.unconfirmed('treasurer')).bidding.agreeVoid({ ...input, askedAt: await askedAt() })).rejects.toThrow(
      'First confirm',
    )
    expect(lastLeaf()?.kind).toBe('bid')
  })
})

describe('a request to void', () => {
  it('that was asked anew with another reason is not agreed to unread', async () => {
    await ask('host')
    const read = stage.clock.now()
    stage.clock.pass(MINUTE)
    await (await stage.as('host')).bidding.dropVoid({ lot: number, alias })
    await (await stage.as('host')).bidding.askVoid({ lot: number, alias, reason: 'Something quite different.' })
    await expect(agree('treasurer', 'treasurer', read)).rejects.toThrow('The reason is now: Something quite different.')
    expect(lastLeaf()?.kind).toBe('bid')
    await agree('treasurer')
    expect(lastLeaf()?.kind).toBe('voided')
  })

  it('is shown to a treasurer, who sees no bidder, with who asked, as what and when', async () => {
    await ask('host')
    expect(await requests('treasurer')).toEqual([
      { alias, reason: 'Bid in error.', at: NOON + 2 * MINUTE, askedBy: 'host', askedRole: 'host', whyNot: null },
    ])
    await expect((await stage.as('treasurer')).bidding.bidders({ lot: number })).rejects.toThrow('done by')
  })

  it('says to whoever may not agree why', async () => {
    await ask('host')
    expect((await requests('host'))[0]?.whyNot).toContain('You asked for it yourself')
    await stage.command((turn) => setRole(turn, { email: 'friend@elsewhere.example', role: 'host', name: 'Friend' }))
    const friend = await stage.actorAt('friend@elsewhere.example')
    expect((await stage.callerOf(friend).bidding.voidRequests({ lot: number }))[0]?.whyNot).toContain('before this lot opened')
  })

  it('is named with its lot where the lots are listed, until it is answered', async () => {
    const treasurer = await stage.as('treasurer')
    expect(await treasurer.bidding.voidsWaiting()).toEqual([])
    await ask('maker')
    expect(await treasurer.bidding.voidsWaiting()).toEqual([number])
    await agree('treasurer')
    expect(await treasurer.bidding.voidsWaiting()).toEqual([])
  })
})
