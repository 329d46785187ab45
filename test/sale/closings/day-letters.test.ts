import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { bid, letter } from '#db/schema/index'
import { SWEEPS } from '#doors/web/sweeps'
import { DAY, HOUR, MINUTE, SECOND } from '#kernel/instant'
import { openAttachment } from '#people/outbox/sealed-words'
import { closingSweep } from '#sale/closings/closing.sweep'
import { dayLettersSweep } from '#sale/closings/day-letters.service'
import { holdLotOfUnit } from '#sale/closings/holds.service'
import { receiptsShape } from '#sale/history/history.contract'
import { faultOfKept } from '#sale/history/receipt.rules'
import { receiptsFile } from '#sale/history/receipts-file.rules'
import { GATHERED_FOR } from '#sale/letters/notices.rules'
import { noticeSweep } from '#sale/letters/notices.service'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { restart } from '#test/make/restart'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

/** What the house does by itself at an instant, in its order. */
const sweepAt = async (at: number) => {
  stage.clock.set(at)
  for (const sweep of SWEEPS) if ([closingSweep, dayLettersSweep, noticeSweep].includes(sweep)) await stage.command(sweep.run)
}
const dayLetters = () => stage.letters().filter(({ attachedName, subject }) => attachedName !== null || subject.startsWith('What became'))
const attachedTo = (recipient: string): string => {
  const found = dayLetters().findLast((one) => one.recipient === recipient)
  return openAttachment(stage.sight().keys, found?.id ?? '', found?.sealedAttachment ?? '')
}
const mine = async (who: Awaited<ReturnType<typeof makeBidder>>) => {
  const { lots } = await who.caller.bidding.myBids()
  return receiptsFile(lots.flatMap(({ bids }) => bids.map(({ receipt }) => receipt)))
}

describe('the letter of the day', () => {
  it('goes once to each who bid, when nothing is to close that day any more, with the file that their own page saves', async () => {
    const one = await makeOpenLot(stage)
    const two = await makeOpenLot(stage, { tag: 'TERN-04', closesIn: 2 * HOUR })
    const tomorrow = await makeOpenLot(stage, { tag: 'TERN-05', closesIn: DAY })
    const [ada, ben, cleo] = [await makeBidder(stage, 'Ada'), await makeBidder(stage, 'Ben'), await makeBidder(stage, 'Cleo')]
    const dora = await makeBidder(stage, 'Dora')
    await dora.bid(two.number, '25')
    await ben.bid(two.number, '31.07')
    await ben.bid(one.number, '155')
    await ada.bid(one.number, '743.87')
    await cleo.bid(tomorrow.number, '50')
    await sweepAt(one.closesAt)
    expect(dayLetters()).toEqual([])
    await sweepAt(two.closesAt - MINUTE)
    expect(dayLettersSweep.nextAt(stage.sight())).toBe(Date.parse('2027-03-14T00:00:00Z'))
    await sweepAt(two.closesAt)
    expect(dayLettersSweep.nextAt(stage.sight())).toBe(two.closesAt + GATHERED_FOR)
    await sweepAt(two.closesAt + GATHERED_FOR - 1)
    expect(dayLetters()).toEqual([])
    await sweepAt(two.closesAt + GATHERED_FOR)
    await sweepAt(two.closesAt + GATHERED_FOR + MINUTE)
    expect(dayLettersSweep.nextAt(stage.sight())).toBeNull()
    expect(
      dayLetters()
        .map(({ recipient, subject, attachedName }) => [recipient, subject, attachedName])
        .sort(),
    ).toEqual(
      [
        [ada.actor.email, 'The receipts of your bids, 13 March 2027', 'receipts.json'],
        [ben.actor.email, 'The receipts of your bids, 13 March 2027', 'receipts.json'],
        [dora.actor.email, 'What became of your bids on 13 March 2027', 'receipts.json'],
      ].sort(),
    )
    const [toBen, toAda, toDora] = [ben, ada, dora].map(({ actor }) => dayLetters().find((one) => one.recipient === actor.email)?.body)
    expect(toAda).toContain('We have already written to you about lot 1.')
    expect(toAda).toContain('The receipt for your bid is attached.')
    // That lot 1 went to another was told when it ended; that lot 2 is Ben's, by its invoice.
    expect(toBen).toContain('We have already written to you about lots 1 and 2.')
    expect(toDora).toContain(
      'Lot 2, Saltmarsh shortwave receiver: it was sold at £27.00, to somebody whose maximum was higher. You owe nothing for it.',
    )
    expect(toDora).not.toContain('already written')
    expect(attachedTo(ben.actor.email)).toBe(await mine(ben))
    const file = receiptsShape.parse(JSON.parse(attachedTo(ada.actor.email)))
    expect(file.receipts.map(({ opening }) => [opening.lot, opening.amountMinor])).toEqual([[1, 74_387]])
    expect(file.receipts.map(faultOfKept)).toEqual([null])

    await sweepAt(tomorrow.closesAt + GATHERED_FOR)
    expect(dayLetters().map(({ recipient }) => recipient)).toHaveLength(4)
    expect(dayLetters().find(({ recipient }) => recipient === cleo.actor.email)?.subject).toBe('The receipts of your bids, 14 March 2027')
  })

  it('tells the end of a lot to each in one letter, whichever comes first', async () => {
    const early = await makeOpenLot(stage)
    const last = await makeOpenLot(stage, { tag: 'TERN-04', closesIn: 2 * HOUR })
    const [ada, ben] = [await makeBidder(stage, 'Ada'), await makeBidder(stage, 'Ben')]
    for (const { number } of [early, last]) {
      await ben.bid(number, '31')
      await ada.bid(number, '155')
    }
    await sweepAt(stage.clock.now() + GATHERED_FOR)
    stage.db.run('UPDATE letter SET sent_at = at')
    const before = stage.letters().length
    for (const { closesAt } of [early, last])
      for (const after of [0, 1, GATHERED_FOR - 1, GATHERED_FOR, GATHERED_FOR + MINUTE, 2 * GATHERED_FOR]) await sweepAt(closesAt + after)
    const toBen = stage
      .letters()
      .slice(before)
      .filter(({ recipient }) => recipient === ben.actor.email)
    expect(toBen.map(({ subject }) => subject)).toEqual([
      'You did not win lot 1, Saltmarsh shortwave receiver',
      'What became of your bids on 13 March 2027',
    ])
    expect(toBen[1]?.body).toContain('Lot 2, Saltmarsh shortwave receiver: it was sold at £33.00')
    expect(toBen[1]?.body).not.toContain('Lot 1,')
    expect(toBen[1]?.body).toContain('We have already written to you about lot 1.')
  })

  it('waits for no lot that is held over the night, and tells of a withdrawal in its own time', async () => {
    const one = await makeOpenLot(stage)
    const held = await makeOpenLot(stage, { tag: 'TERN-04' })
    const ada = await makeBidder(stage, 'Ada')
    await ada.bid(one.number, '50')
    await ada.bid(held.number, '50')
    await stage.command((turn) => holdLotOfUnit(turn, held.unitId, 'A lead came loose.'))
    await sweepAt(one.closesAt)
    expect(dayLetters()).toEqual([])
    await sweepAt(Date.parse('2027-03-14T00:00:00Z'))
    expect(dayLetters()).toHaveLength(1)
    expect(dayLetters()[0]?.body).not.toContain('Lot 2')
    await (await stage.as('maker')).bidding.withdraw({ lot: held.number, reason: 'The display failed.' })
    await sweepAt(stage.clock.now() + GATHERED_FOR)
    expect(dayLetters()).toHaveLength(2)
    expect(
      dayLetters()
        .map(({ body }) => body)
        .join(),
    ).toContain('it was withdrawn, so nobody owes anything for it. The reason given: The display failed.')
  })

  it('is written to many in short commands, one to each, though the house is opened anew between them', async () => {
    const { number, closesAt } = await makeOpenLot(stage)
    for (let n = 1; n <= 12; n++) {
      await (await makeBidder(stage, 'x'.repeat(n))).bid(number, String(20 + 20 * n))
      stage.clock.pass(SECOND)
    }
    stage.clock.set(closesAt + HOUR)
    await stage.command(closingSweep.run)
    await stage.command((turn) => noticeSweep.run({ ...turn, now: turn.now + GATHERED_FOR }))
    stage.clock.pass(GATHERED_FOR)
    const written: number[] = []
    while (dayLettersSweep.nextAt(stage.sight()) !== null && written.length < 9) {
      const before = dayLetters().length
      await stage.command(dayLettersSweep.run)
      written.push(dayLetters().length - before)
      if (written.length === 1) stage = await restart(stage, SECOND)
    }
    expect(written).toEqual([5, 5, 2])
    expect(new Set(dayLetters().map(({ recipient }) => recipient)).size).toBe(12)
  })

  it('keeps what is attached sealed, the same length whatever was bid, and shows the staff its name alone', async () => {
    const { number, closesAt } = await makeOpenLot(stage)
    const [ada, ben] = [await makeBidder(stage, 'Ada'), await makeBidder(stage, 'Ben')]
    await ben.bid(number, '20')
    await ada.bid(number, '743.87')
    await sweepAt(closesAt + GATHERED_FOR)
    expect(JSON.stringify(stage.db.select().from(letter).all())).not.toMatch(/743\.?87/)
    const [first, second] = dayLetters()
    expect(first?.sealedAttachment).toHaveLength(second?.sealedAttachment?.length ?? 0)
    const shown = (await (await stage.as('maker')).outbox.list()).filter(({ attachedName }) => attachedName !== null)
    expect(shown.map(({ attachedName }) => attachedName)).toEqual(['receipts.json', 'receipts.json'])
    expect(JSON.stringify(shown)).not.toMatch(/743\.?87|nonce|sealed/)
  })

  it('goes without the file where what is kept of a bid is damaged, and says so', async () => {
    const { number, closesAt } = await makeOpenLot(stage)
    const ada = await makeBidder(stage, 'Ada')
    await ada.bid(number, '50')
    await (await stage.as('maker')).bidding.withdraw({ lot: number, reason: 'The display failed.' })
    await stage.command(({ db }) =>
      db
        .update(bid)
        .set({ sealed: 'A'.repeat(88) })
        .run(),
    )
    await sweepAt(closesAt + GATHERED_FOR)
    expect(dayLetters()).toMatchObject([{ attachedName: null, sealedAttachment: null }])
    expect(dayLetters()[0]?.body).toContain('could not be attached')
  })
})
