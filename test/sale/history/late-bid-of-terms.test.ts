import { describe, expect, it, test } from 'vitest'
import { HOUR, MINUTE, SECOND } from '#kernel/instant'
import { checkHistory } from '#sale/history/check-history.rules'
import type { History } from '#sale/history/history.contract'
import { readHistory } from '#sale/history/history.service'
import type { LateBid } from '#sale/price/late-bid.rules'
import { campaignForm, makeCampaign } from '#test/make/campaign'
import { makeBidder, makeOpenLot, makePreparedLot, PHOTO } from '#test/make/lot'
import { makeKey, makeLot, makeTerms, pounds } from '#test/make/lot-history'
import { refusedAt } from '#test/make/refusal'
import { openStage } from '#test/stage'
import { verifyHistory } from '#test/verifier/verify-history'

const bothFind = (history: History, raw: Uint8Array): [boolean, boolean] => {
  const given = JSON.parse(JSON.stringify(history))
  let byDocument = true
  try {
    verifyHistory(given, [Buffer.from(raw).toString('base64url')])
  } catch {
    byDocument = false
  }
  return [checkHistory(given).every(({ isSound }) => isSound), byDocument]
}

/** Two bids, the second `left` before the closing, under a rule; `signed` is what the terms say of it. */
function late(rule: LateBid | undefined, left: number, { signed = rule, isOver = true }: { signed?: LateBid; isOver?: boolean } = {}) {
  const lot = makeLot({ terms: makeTerms({ lateBid: rule }), closesAt: HOUR })
  const [opened] = lot.leaves
  if (opened?.kind === 'opened' && signed) opened.terms.lateBid = signed
  lot.bid('4K', pounds(60), SECOND)
  lot.bid('9F', pounds(90), HOUR - left)
  const { closesAt } = lot.state
  if (isOver) lot.say({ kind: 'close' }, 2 * HOUR)
  const key = makeKey()
  return { moved: (closesAt ?? 0) - HOUR, found: bothFind(lot.history(key), key.raw) }
}

describe('a late bid is what the terms of its lot say', () => {
  const LONG = { windowMs: 5 * MINUTE, addsMs: 6 * MINUTE }
  const SHORT = { windowMs: 30 * SECOND, addsMs: 90 * SECOND }
  it.each<[string, LateBid | undefined, number, number]>([
    ['terms that say none', undefined, 2 * MINUTE, 0],
    ['terms that say none', undefined, 2 * MINUTE - 1, 1],
    ['a long window', LONG, 5 * MINUTE, 0],
    ['a long window', LONG, 5 * MINUTE - 1, MINUTE + 1],
    ['a short window that adds more', SHORT, 30 * SECOND, 0],
    ['a short window that adds more', SHORT, SECOND, 89 * SECOND],
    ['a window that adds less than it is long', { windowMs: 5 * MINUTE, addsMs: MINUTE }, 4 * MINUTE, 0],
    ['a window that adds less than it is long', { windowMs: 5 * MINUTE, addsMs: MINUTE }, SECOND, 59 * SECOND],
  ])('%s: both checkers, open and over (%#)', (_what, rule, left, by) => {
    for (const isOver of [true, false]) expect(late(rule, left, { isOver })).toEqual({ moved: by, found: [true, true] })
  })

  it('so terms that are given another rule than the lot was played by do not hold', () => {
    for (const isOver of [true, false]) {
      expect(late(undefined, MINUTE, { signed: SHORT, isOver }).found).toEqual([false, false])
      expect(late(LONG, 4 * MINUTE, { signed: SHORT, isOver }).found).toEqual([false, false])
      expect(late(undefined, MINUTE, { signed: { windowMs: 0, addsMs: 120_000 }, isOver }).found).toEqual([false, false])
    }
  })
})

test('the terms of a lot carry the campaign’s rule, its estimate and its photographs, and a later change touches no lot that is open', async () => {
  const stage = openStage()
  const { number, closesAt } = await makePreparedLot(stage)
  await makeCampaign(stage, { lateWindow: '300', lateAdds: '360' })
  await (await stage.as('maker')).bidding.open({ lot: number })
  await makeCampaign(stage, { lateWindow: '30', lateAdds: '30' })
  const [opened] = readHistory(stage.sight(), number).leaves
  expect(opened).toMatchObject({
    terms: {
      lateBid: { windowMs: 300_000, addsMs: 360_000 },
      sale: {
        estimate: { lowMinor: 12_000, highMinor: 24_000 },
        photographs: [{ sha256: PHOTO, caption: 'From the front' }],
      },
    },
  })
  const [ada, ben] = [await makeBidder(stage, 'ada'), await makeBidder(stage, 'ben')]
  await ada.bid(number, '60')
  stage.clock.set(closesAt - 4 * MINUTE)
  await ben.bid(number, '90')
  const frame = await stage.visitor().bidding.frame({ lot: number })
  expect(frame).toMatchObject({ closesAt: closesAt + 2 * MINUTE, lateBid: { windowMs: 300_000 } })
  expect(readHistory(stage.sight(), number).leaves.at(-1)).toMatchObject({ by: 'rule', reason: 'A bid came in the last five minutes.' })
  const other = await makeOpenLot(stage, { tag: 'TERN-04' })
  expect((await stage.visitor().bidding.frame({ lot: other.number }))?.lateBid).toEqual({ windowMs: 120_000, addsMs: 120_000 })
  stage.close()
})

test.each([
  ['lateWindow', { lateWindow: '29' }, /from 30 to 600/],
  ['lateWindow', { lateWindow: '601', lateAdds: '700' }, /from 30 to 600/],
  ['lateWindow', { lateWindow: 'two' }, /from 30 to 600/],
  ['lateAdds', { lateAdds: '901' }, /from 30 to 900/],
  ['lateAdds', { lateWindow: '180', lateAdds: '179' }, /at least 180/],
])('a rule that could not work is refused at %s (%o)', async (field, change, words) => {
  const stage = openStage()
  await makeCampaign(stage)
  const maker = await stage.as('maker')
  expect((await refusedAt(maker.campaign.save(campaignForm(stage.clock.now(), change))))[field]).toMatch(words)
  stage.close()
})
