import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { HOUR } from '#kernel/instant'
import { makeCampaign } from '#test/make/campaign'
import { makeDonor, makePart } from '#test/make/shelf'
import { NOON, openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

const maker = () => stage.as('maker')

describe('thanks', () => {
  const arrived = async () => {
    const donor = await makeDonor(stage)
    const part = await makePart(stage)
    await (await stage.as('volunteer')).parcels.log({ key: 'a-parcel-key', donorId: donor.id, lines: [{ partId: part.id, quantity: 20 }] })
    return donor
  }

  test('are due when something came, and overdue after 48 hours and not at 48', async () => {
    const donor = await arrived()
    const due = async () => (await maker()).outcome.thanksDue()
    expect(await due()).toMatchObject([{ donorId: donor.id, donorName: 'Ines Abreu', since: NOON, overdue: false }])
    stage.clock.set(NOON + 48 * HOUR)
    expect(await due()).toMatchObject([{ overdue: false }])
    stage.clock.pass(1)
    expect(await due()).toMatchObject([{ overdue: true }])
  })

  test('go out as drafted from the facts, and once', async () => {
    await makeCampaign(stage)
    const donor = await arrived()
    const { thanks } = await (await maker()).outcome.donorPage({ donorId: donor.id })
    expect(thanks?.draft.body).toContain('- 20 × Display, 14 mm: 20 in hand.')
    const letter = { donorId: donor.id, giftIds: thanks?.giftIds ?? [], byHand: false, ...thanks?.draft }
    expect(await (await maker()).outcome.thank(letter)).toEqual({ thanked: 1 })
    expect(await (await maker()).outcome.thank(letter)).toEqual({ thanked: 0 })
    expect(stage.letters()).toMatchObject([{ recipient: 'ines@abreu.example', subject: 'Long Bench Day: thank you' }])
    expect(await (await maker()).outcome.thanksDue()).toEqual([])
  })

  test('said by hand are noted, and nothing is sent', async () => {
    const donor = await arrived()
    const { thanks } = await (await maker()).outcome.donorPage({ donorId: donor.id })
    await (await maker()).outcome.thank({ donorId: donor.id, giftIds: thanks?.giftIds ?? [], byHand: true })
    expect(stage.letters()).toEqual([])
    expect(await (await maker()).outcome.thanksDue()).toEqual([])
  })

  test('a promise is not thanked for before it came', async () => {
    const donor = await makeDonor(stage)
    const part = await makePart(stage)
    await (await maker()).gifts.add({ donorId: donor.id, kind: 'parts', partId: part.id, quantity: 6 })
    expect(await (await maker()).outcome.thanksDue()).toEqual([])
  })
})
