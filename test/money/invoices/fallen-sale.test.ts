import { afterEach, describe, expect, it } from 'vitest'
import { mostOfAll } from '#money/invoices/my-most.rules'
import { gathered } from '#test/make/gathered'
import { formKey, makeSoldLot } from '#test/make/sold'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

describe('a sale that fell through', () => {
  it('is told to its buyer, and to nobody else; the buyer’s own pages call it what it is and count nothing for it', async () => {
    stage = openStage()
    const { treasurer, ada, bo, number } = await makeSoldLot(stage)
    await gathered(stage)
    const most = async () => mostOfAll(await ada.caller.bidding.myBids(), await ada.caller.invoices.mySales())
    expect(await most()).toBe(6_200)
    const before = stage.letters().length
    await treasurer.booking.fallThrough({ key: formKey(), lot: number, why: 'Never paid.' })
    const told = (await gathered(stage)).slice(before)
    expect(told.map(({ recipient, subject }) => [recipient, subject])).toEqual([
      ['ada@bidder.example', `Your purchase of lot ${number}, Saltmarsh shortwave receiver, fell through`],
    ])
    expect(await ada.caller.invoices.mySales()).toMatchObject([{ lot: number, stands: false, priceMinor: 0, postageMinor: 0 }])
    expect(await most()).toBe(0)
    expect(await bo.caller.invoices.mySales()).toEqual([])
  })

  it('and is taken back before anybody was told leaves one letter, which says that it stands', async () => {
    stage = openStage()
    const { treasurer, ada, number } = await makeSoldLot(stage)
    await gathered(stage)
    const before = stage.letters().length
    const { entryId } = await treasurer.booking.fallThrough({ key: formKey(), lot: number, why: 'Never paid.' })
    await treasurer.booking.correct({ key: formKey(), entryId, why: 'It was another lot.' })
    expect((await gathered(stage)).slice(before).map(({ subject }) => subject)).toEqual([
      `Your purchase of lot ${number}, Saltmarsh shortwave receiver, stands after all`,
    ])
    expect(await ada.caller.invoices.mySales()).toMatchObject([{ stands: true, priceMinor: 5_000, postageMinor: 1_200 }])
  })

  it('leaves the lot to whoever buys it next, whose it is then, also at the very same price', async () => {
    stage = openStage()
    const { treasurer, ada, bo, number } = await makeSoldLot(stage)
    const { offerId } = await treasurer.invoices.offer({ key: formKey(), lot: number, why: 'Never paid.' })
    await bo.caller.invoices.answerOffer({ key: formKey(), offerId, accepts: true })
    const toAda = (await gathered(stage)).filter(({ recipient }) => recipient === 'ada@bidder.example').map(({ subject }) => subject)
    expect(toAda.filter((subject) => /fell through|has ended/.test(subject))).toEqual([`The sale of lot ${number} has ended`])
    expect(await ada.caller.invoices.mySales()).toMatchObject([{ by: 'hammer', stands: false }])
    expect(await bo.caller.invoices.mySales()).toMatchObject([{ by: 'underbidder', stands: true, priceMinor: 4_800 }])
  })
})
