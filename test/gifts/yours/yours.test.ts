import { eq } from 'drizzle-orm'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { donorLink, fact, fitting, gift as giftTable, letter, lot, lotExtra, request } from '#db/schema/index'
import { HOUR, MINUTE } from '#kernel/instant'
import { withoutKey } from '#people/outbox/gone-letter.rules'
import { makeCampaign } from '#test/make/campaign'
import { makeOpenLot } from '#test/make/lot'
import { refusedAt } from '#test/make/refusal'
import { makeDonor, makePart, makeUnits } from '#test/make/shelf'
import { NOON, openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(async () => {
  stage = openStage()
  await makeCampaign(stage)
})
afterEach(() => stage.close())

const maker = () => stage.as('maker')
const tokenIn = (text: string): string => /yours#([\w-]+)/.exec(text)?.[1] ?? ''

async function withLink(name = 'Ines Abreu', contact = 'ines@abreu.example') {
  const donor = await makeDonor(stage, name, { contact })
  await (await maker()).yours.mailLink({ donorId: donor.id })
  const mailed = stage.letters().find(({ recipient }) => recipient === contact)
  return { donor, token: tokenIn(mailed?.body ?? '') }
}

describe('the private link', () => {
  test('comes by email, is long and random, and of it only the hash is kept', async () => {
    const { token } = await withLink()
    expect(token).toMatch(/^[\w-]{43}$/)
    const kept = JSON.stringify([
      stage.db.select().from(donorLink).all(),
      stage.db.select().from(fact).all(),
      stage.db.select().from(request).all(),
    ])
    expect(kept).not.toContain(token)
    expect(withoutKey(stage.letters()[0]?.body ?? '')).not.toContain(token)
  })

  test('opens without an account; a wrong one, and one a letter short, open nothing', async () => {
    const { token } = await withLink()
    expect((await stage.visitor().yours.open({ token })).creditName).toBe('Ines Abreu')
    for (const wrong of ['', token.slice(1), `${token}x`, token.split('').reverse().join('')])
      await expect(stage.visitor().yours.open({ token: wrong })).rejects.toThrow('no longer opens a page')
  })

  test('made again, the one before stops working; closed by its donor, it does too', async () => {
    const { donor, token } = await withLink()
    const again = tokenIn((await (await maker()).yours.makeLink({ donorId: donor.id })).link)
    await expect(stage.visitor().yours.open({ token })).rejects.toThrow('Ask for a new one')
    await stage.visitor().yours.close({ token: again })
    await expect(stage.visitor().yours.open({ token: again })).rejects.toThrow('Ask for a new one')
  })

  test('asked for again by email address it is mailed, once in ten minutes; for a stranger the answer is the same and nothing is sent', async () => {
    const { token } = await withLink()
    const ask = (mail: string) => stage.visitor().yours.askLink({ mail })
    const stranger = await ask('nobody@elsewhere.example')
    expect(await ask('INES@abreu.example')).toEqual(stranger)
    expect(stage.letters()).toHaveLength(1)
    stage.clock.pass(10 * MINUTE)
    await ask('ines@abreu.example')
    expect(stage.letters()).toHaveLength(2)
    await expect(stage.visitor().yours.open({ token })).rejects.toThrow()
  })

  test('cannot be mailed where no address is known, and says what to do', async () => {
    const donor = await makeDonor(stage, 'Bo Ferris', { contact: '' })
    await expect((await maker()).yours.mailLink({ donorId: donor.id })).rejects.toThrow('make a link to hand over')
  })
})

describe('what a donor says on their own page', () => {
  test('a consent withdrawn is gone from the credits at once', async () => {
    const { donor, token } = await withLink()
    await (await maker()).gifts.add({ donorId: donor.id, kind: 'labour', words: 'winding coils', minutes: 60 })
    expect((await stage.visitor().credits.all())?.all.names).toEqual(['Ines Abreu'])
    const page = await stage.visitor().yours.consent({ token, use: 'page', given: false })
    expect(page.consents).toEqual({ page: false, stream: true, card: true })
    expect((await stage.visitor().credits.all())?.all.names).toEqual([])
  })

  test('a new spelling waits for the staff and the old one is shown meanwhile; to be hidden takes effect at once', async () => {
    const { donor, token } = await withLink()
    await (await maker()).gifts.add({ donorId: donor.id, kind: 'labour', words: 'winding coils', minutes: 60 })
    const names = async () => (await stage.visitor().credits.all())?.all
    const page = await stage.visitor().yours.naming({ token, creditName: 'Inês Abreu', sayIt: 'ee-NESH', anonymity: 'named' })
    expect(page).toMatchObject({ creditName: 'Ines Abreu', asked: { creditName: 'Inês Abreu', sayIt: 'ee-NESH' } })
    expect((await names())?.names).toEqual(['Ines Abreu'])
    await (await maker()).donors.answerNaming({ donorId: donor.id, isTaken: true })
    expect((await names())?.names).toEqual(['Inês Abreu'])
    await stage.visitor().yours.naming({ token, creditName: 'Inês Abreu', sayIt: 'ee-NESH', anonymity: 'friend' })
    expect(await names()).toMatchObject({ names: [], friends: 1 })
  })

  test('a spelling that the staff leave changes nothing', async () => {
    const { donor, token } = await withLink()
    await stage.visitor().yours.naming({ token, creditName: 'Buy now!!', sayIt: '', anonymity: 'named' })
    await (await maker()).donors.answerNaming({ donorId: donor.id, isTaken: false })
    expect(await stage.visitor().yours.open({ token })).toMatchObject({ creditName: 'Ines Abreu', asked: null })
  })
})

/** Ines gave six displays, of which four went into an open lot's unit; Bo gave some of the same part, in the same unit. */
async function twoDonorsInOneLot() {
  const { donor: ines, token } = await withLink()
  const bo = await makeDonor(stage, 'Bo Ferris', { contact: 'bo@ferris.example' })
  const part = await makePart(stage)
  const { number, unitId } = await makeOpenLot(stage)
  const volunteer = await stage.as('volunteer')
  const actor = await stage.actor('maker')
  for (const [donorId, quantity, from] of [[ines.id, 6, 0] as const, [bo.id, 2, 4] as const]) {
    await volunteer.parcels.log({ key: `parcel-${donorId}`, donorId, lines: [{ partId: part.id, quantity }] })
    const batch = (await volunteer.buildable.part({ partId: part.id })).batches.find((one) => one.donorId === donorId)
    await stage.command(({ db, dice, now }) => {
      for (let index = 0; index < Math.min(quantity, 4); index++) {
        const row = {
          id: dice.id(),
          unitId,
          designator: `U${from + index + 1}`,
          batchId: batch?.id ?? '',
          iron: false,
          kind: 'first' as const,
        }
        db.insert(fitting)
          .values({ ...row, at: now, byPersonId: actor.personId })
          .run()
      }
    })
  }
  const sell = () =>
    stage.command(({ db, now }) =>
      db.update(lot).set({ state: 'sold', hammerMinor: 20400, endedAt: now }).where(eq(lot.number, number)).run(),
    )
  return { ines, bo, token, number, sell }
}

describe('the page tells what became of each gift', () => {
  test('down to designators, unit and lot, and what the lot raised; with nobody else’s data on it', async () => {
    const { bo, token, number, sell } = await twoDonorsInOneLot()
    const page = async () => stage.visitor().yours.open({ token })
    expect((await page()).gifts).toMatchObject([
      {
        what: '6 × Display, 14 mm',
        sentences: ['4 fitted in TERN-03, 2 kept as spares.'],
        machines: [{ tag: 'TERN-03', designators: ['U1', 'U2', 'U3', 'U4'], lot: { number, state: 'open', hammerMinor: null } }],
      },
    ])
    await sell()
    const sold = await page()
    expect(sold.gifts[0]?.sentences).toEqual(['4 fitted in TERN-03, 2 kept as spares.', 'That lot raised £204.00.'])
    expect(sold.raised).toEqual({ lots: 1, minor: 20400 })
    const all = JSON.stringify(sold)
    for (const other of ['Bo Ferris', 'bo@ferris', bo.id, 'U5', '"2 ×', 'volunteer', 'maker@']) expect(all).not.toContain(other)
  })

  test('a lot that is a draft is nobody’s business, and what was declined says why', async () => {
    const { donor, token } = await withLink()
    const part = await makePart(stage)
    await makeUnits(stage, ['WREN-05'], { [part.id]: 6 })
    const gift = await (await maker()).gifts.add({ donorId: donor.id, kind: 'parts', partId: part.id, quantity: 6 })
    await (await maker()).donors.declinePromise({ giftId: gift.id, reason: 'We have enough of these by now.' })
    const { gifts } = await stage.visitor().yours.open({ token })
    expect(gifts).toMatchObject([{ state: 'declined', reason: 'We have enough of these by now.', sentences: [], machines: [] }])
  })
})

describe('the second thanks', () => {
  test('are due when a lot with the gift in it has sold, overdue after 48 hours, and are sent once', async () => {
    const { ines, bo, number, sell } = await twoDonorsInOneLot()
    const due = async () => (await maker()).outcome.soldThanksDue()
    expect(await due()).toEqual([])
    await sell()
    expect((await due()).map(({ donorId, lots, overdue }) => [donorId, lots, overdue]).sort()).toEqual(
      [
        [bo.id, [number], false],
        [ines.id, [number], false],
      ].sort(),
    )
    stage.clock.set(NOON + 48 * HOUR + 1)
    expect((await due()).every(({ overdue }) => overdue)).toBe(true)

    const { soldThanks } = await (await maker()).outcome.donorPage({ donorId: ines.id })
    expect(soldThanks?.draft.body).toContain('Your 6 × Display, 14 mm: 4 fitted in TERN-03, 2 kept as spares. That lot raised £204.00.')
    expect(soldThanks?.draft.body).not.toContain('Bo')
    const letterTo = { donorId: ines.id, byHand: false, ...soldThanks?.draft }
    expect(await (await maker()).outcome.thankSold(letterTo)).toEqual({ lots: 1 })
    expect(await (await maker()).outcome.thankSold(letterTo)).toEqual({ lots: 0 })
    expect(stage.db.select().from(letter).where(eq(letter.subject, 'Long Bench Day: what became of your gift')).all()).toHaveLength(1)
    expect((await due()).map(({ donorId }) => donorId)).toEqual([bo.id])
  })

  test('is put right once its sale fell through or its price was lowered, and again when it stands after all', async () => {
    const { ines, token, number, sell } = await twoDonorsInOneLot()
    await sell()
    const standing = (standsMinor: number | null) =>
      stage.command(({ db }) => db.update(lot).set({ standsMinor }).where(eq(lot.number, number)).run())
    const soldThanks = async () => (await (await maker()).outcome.donorPage({ donorId: ines.id })).soldThanks
    const send = async () => (await maker()).outcome.thankSold({ donorId: ines.id, byHand: false, ...(await soldThanks())?.draft })
    await standing(0)
    // Nothing is told of a sale that does not stand.
    expect(await soldThanks()).toBeNull()
    await standing(null)
    await send()
    await standing(0)
    expect(await soldThanks()).toMatchObject({ lots: [], putRight: [number] })
    const { subject, body } = (await soldThanks())?.draft ?? { subject: '', body: '' }
    expect(subject).toContain('a correction')
    expect(body).toContain(`We told you that lot ${number} raised £204.00. That sale fell through later`)
    expect((await stage.visitor().yours.open({ token })).raised).toBeNull()
    await send()
    expect(await soldThanks()).toBeNull()
    await standing(18000)
    expect((await soldThanks())?.draft.body).toContain('It was sold after all, and raised £180.00.')
    await send()
    await standing(17000)
    expect((await soldThanks())?.draft.body).toContain('the lot has raised £170.00.')
    expect((await stage.visitor().yours.open({ token })).raised).toEqual({ lots: 1, minor: 17000 })
  })

  test('wait while another lot with gifts of theirs is open', async () => {
    const { ines, sell } = await twoDonorsInOneLot()
    const other = await makeOpenLot(stage, { tag: 'TERN-04' })
    const gift = await (await maker()).gifts.add({ donorId: ines.id, kind: 'extras', words: 'A strap', quantity: 1 })
    await stage.command(({ db, now }) => {
      const row = db.select().from(lot).where(eq(lot.number, other.number)).get()
      db.update(giftTable).set({ state: 'available', arrivedAt: now }).where(eq(giftTable.id, gift.id)).run()
      db.insert(lotExtra)
        .values({ lotId: row?.id ?? '', seq: 9, words: 'A strap', giftId: gift.id })
        .run()
    })
    await sell()
    const letterTo = { donorId: ines.id, byHand: false, subject: 'Sold', body: 'It was sold.' }
    const waiting = (await (await maker()).outcome.donorPage({ donorId: ines.id })).soldThanks
    expect(waiting).toMatchObject({ stillToEnd: [other.number], waitsFor: expect.stringContaining('still open') })
    expect((await refusedAt((await maker()).outcome.thankSold(letterTo))).body).toContain(`Lot ${other.number}`)
    expect(stage.letters().some(({ subject }) => subject === 'Sold')).toBe(false)
    await stage.command(({ db, now }) => db.update(lot).set({ state: 'unsold', endedAt: now }).where(eq(lot.number, other.number)).run())
    expect(await (await maker()).outcome.thankSold(letterTo)).toEqual({ lots: 1 })
  })
})
