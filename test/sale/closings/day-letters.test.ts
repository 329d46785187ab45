import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { bid, letter } from '#db/schema/index'
import { DAY, HOUR, MINUTE } from '#kernel/instant'
import { openAttachment } from '#people/outbox/sealed-words'
import { closeDueLots } from '#sale/closings/close-due.service'
import { dayLettersSweep } from '#sale/closings/day-letters.service'
import { holdLotOfUnit } from '#sale/closings/holds.service'
import { receiptsShape } from '#sale/history/history.contract'
import { faultOfKept } from '#sale/history/receipt.rules'
import { receiptsFile } from '#sale/history/receipts-file.rules'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

const sweepAt = async (at: number) => {
  stage.clock.set(at)
  await stage.command(closeDueLots)
  await stage.command(dayLettersSweep.run)
}
const dayLetters = () => stage.letters().filter(({ subject }) => subject.startsWith('What became of your bids'))
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
    await ben.bid(two.number, '31.07')
    await ben.bid(one.number, '155')
    await ada.bid(one.number, '743.87')
    await cleo.bid(tomorrow.number, '50')
    await sweepAt(one.closesAt)
    expect(dayLetters()).toEqual([])
    await sweepAt(two.closesAt - MINUTE)
    expect(dayLettersSweep.nextAt(stage.sight())).toBe(Date.parse('2027-03-14T00:00:00Z'))
    await sweepAt(two.closesAt)
    await sweepAt(two.closesAt + MINUTE)
    expect(dayLettersSweep.nextAt(stage.sight())).toBeNull()
    expect(
      dayLetters()
        .map(({ recipient, subject, attachedName }) => [recipient, subject, attachedName])
        .sort(),
    ).toEqual([ben, ada].map(({ actor }) => [actor.email, 'What became of your bids, 2027-03-13', 'receipts.json']).sort())
    const [toBen, toAda] = [ben, ada].map(({ actor }) => dayLetters().find(({ recipient }) => recipient === actor.email)?.body)
    expect(toAda).toContain('Lot 1, Saltmarsh shortwave receiver: you won it at £165.00.')
    expect(toAda).toContain('The receipt of your one bid is attached.')
    expect(toBen).toContain('Lot 1, Saltmarsh shortwave receiver: it was sold at £165.00, to somebody whose maximum was higher.')
    expect(toBen).toContain('Lot 2, Saltmarsh shortwave receiver: you won it at £20.00.')
    expect(attachedTo(ben.actor.email)).toBe(await mine(ben))
    const file = receiptsShape.parse(JSON.parse(attachedTo(ada.actor.email)))
    expect(file.receipts.map(({ opening }) => [opening.lot, opening.amountMinor])).toEqual([[1, 74_387]])
    expect(file.receipts.map(faultOfKept)).toEqual([null])

    await sweepAt(tomorrow.closesAt)
    expect(dayLetters().map(({ recipient }) => recipient)).toHaveLength(3)
    expect(dayLetters().find(({ recipient }) => recipient === cleo.actor.email)?.subject).toBe('What became of your bids, 2027-03-14')
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
    await sweepAt(stage.clock.now())
    expect(dayLetters()).toHaveLength(2)
    expect(
      dayLetters()
        .map(({ body }) => body)
        .join(),
    ).toContain('it was withdrawn. The reason given: The display failed.')
  })

  it('keeps what is attached sealed, the same length whatever was bid, and shows the staff its name alone', async () => {
    const { number, closesAt } = await makeOpenLot(stage)
    const [ada, ben] = [await makeBidder(stage, 'Ada'), await makeBidder(stage, 'Ben')]
    await ben.bid(number, '20')
    await ada.bid(number, '743.87')
    await sweepAt(closesAt)
    expect(JSON.stringify(stage.db.select().from(letter).all())).not.toMatch(/743\.?87/)
    const [first, second] = dayLetters()
    expect(first?.sealedAttachment).toHaveLength(second?.sealedAttachment?.length ?? 0)
    const shown = (await (await stage.as('maker')).outbox.list()).filter(({ subject }) => subject.startsWith('What became'))
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
    await sweepAt(closesAt)
    expect(dayLetters()).toMatchObject([{ attachedName: null, sealedAttachment: null }])
    expect(dayLetters()[0]?.body).toContain('could not be attached')
  })
})
