import { eq } from 'drizzle-orm'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { certificate } from '#db/schema/index'
import { HOUR, MINUTE } from '#kernel/instant'
import { makeCampaign } from '#test/make/campaign'
import { certify, lotForm, makePreparedLot, makeTestedUnit, postageRows } from '#test/make/lot'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

it('is begun once there is a campaign, in whose currency its prices are named', async () => {
  await makeTestedUnit(stage, { tag: 'TERN-03', isCertified: false })
  const maker = await stage.as('maker')
  await expect(maker.lots.start({ unit: 'TERN-03' })).rejects.toThrow('There is no campaign yet')
  await makeCampaign(stage, { currency: 'NOK' })
  const { number } = await maker.lots.start({ unit: 'TERN-03' })
  expect((await maker.lots.all()).map((lot) => [lot.number, lot.currency])).toEqual([[number, 'NOK']])
})

describe('the gate', () => {
  it('lists everything that is missing, in words, each with where it is put right', async () => {
    await makeCampaign(stage, { causeName: '', sellerName: '', cancelWords: '' })
    await makeTestedUnit(stage, { tag: 'TERN-03', isCertified: false })
    const maker = await stage.as('maker')
    const { number } = await maker.lots.start({ unit: 'tern-03' })
    const { missing } = await maker.lots.prepared({ lot: number })
    expect(missing.map(({ what }) => what)).toEqual([
      'certificate',
      'story',
      'photograph',
      'opening',
      'reserve',
      'weight',
      'size',
      'postage',
      'cause',
      'seller',
      'cancellation',
      'closing',
    ])
    expect(missing.every(({ words, where }) => words.length > 5 && where.href.startsWith('/bench/'))).toBe(true)
    await expect(maker.bidding.open({ lot: number })).rejects.toThrow('cannot open yet')
    expect(await stage.visitor().lotPage.cards()).toEqual([])
  })

  it('opens when nothing is missing, and fixes the terms', async () => {
    const { number } = await makePreparedLot(stage)
    const maker = await stage.as('maker')
    expect((await maker.lots.prepared({ lot: number })).missing).toEqual([])
    await maker.bidding.open({ lot: number })
    await expect(maker.lots.save(lotForm(number, { title: 'Another' }))).rejects.toThrow('Its terms were fixed when it opened')
    await makeCampaign(stage, { cancelWords: 'No way back.' })
    const page = await stage.visitor().lotPage.page({ lot: number })
    expect(page.cancelWords).toContain('within 14 days')
    expect(page.areTermsFixed).toBe(true)
  })

  it('stays closed once the certificate was withdrawn, and opens again with a new one', async () => {
    const { number, unitId } = await makePreparedLot(stage)
    const maker = await stage.as('maker')
    await stage.command(({ db, now }) =>
      db.update(certificate).set({ withdrawnAt: now, withdrawnReason: 'A coil was changed.' }).where(eq(certificate.unitId, unitId)).run(),
    )
    await expect(maker.bidding.open({ lot: number })).rejects.toThrow('TERN-03 has no valid certificate')
    await certify(stage, unitId)
    await expect(maker.bidding.open({ lot: number })).resolves.toMatchObject({ state: 'open' })
  })

  it('stays closed when the closing has passed by', async () => {
    const { number } = await makePreparedLot(stage)
    stage.clock.pass(HOUR)
    await expect((await stage.as('maker')).bidding.open({ lot: number })).rejects.toThrow('Its closing is in the past')
  })
})

describe('preparing a lot', () => {
  it('is the maker’s work', async () => {
    await makePreparedLot(stage)
    for (const role of ['volunteer', 'treasurer', 'host', 'bidder'] as const) {
      await expect((await stage.as(role)).lots.prepared({ lot: 1 })).rejects.toThrow('This is done by the maker')
    }
    await expect(stage.visitor().lots.prepared({ lot: 1 })).rejects.toThrow('Sign in first')
  })

  it('takes a unit once, until its lot went unsold or was withdrawn', async () => {
    const { number } = await makePreparedLot(stage)
    const maker = await stage.as('maker')
    await expect(maker.lots.start({ unit: 'TERN-03' })).rejects.toThrow('TERN-03 is lot 1 already.')
    await maker.bidding.withdraw({ lot: number, reason: 'The display failed.' })
    await expect(maker.lots.start({ unit: 'TERN-03' })).resolves.toEqual({ number: 2 })
    await expect(maker.lots.start({ unit: 'TERN-99' })).rejects.toThrow('There is no unit TERN-99.')
  })

  it.each([
    [{ opening: '1e308' }, 'opening', '"1e308" is not an amount'],
    [{ opening: '-5' }, 'opening', 'Write an amount above zero'],
    [{ opening: '0' }, 'opening', 'Write an amount above zero'],
    [{ reserveKind: 'amount', reserve: '' }, 'reserve', 'Write an amount'],
    [{ reserveKind: 'amount', reserve: '19.99' }, 'reserve', 'below the opening price'],
    [{ low: '200', likely: '100' }, 'likely', 'at least the low'],
    [{ likely: '300', high: '200' }, 'high', 'at least the likely'],
    [{ weightGrams: '2.4 kg' }, 'weightGrams', 'the weight in grams as a whole number'],
    [{ weightGrams: '-1' }, 'weightGrams', 'the weight in grams'],
    [{ title: '' }, 'title', 'Give the lot a title'],
    [{ title: 'x'.repeat(121) }, 'title', 'Use at most 120 characters'],
    [{ soldWhere: 'elsewhere', elsewhereUrl: 'javascript:alert(1)' }, 'elsewhereUrl', 'beginning with https'],
  ])('refuses %j at its field and stores nothing', async (change, field, words) => {
    const { number } = await makePreparedLot(stage)
    const maker = await stage.as('maker')
    const before = await maker.lots.prepared({ lot: number })
    const refusal = await maker.lots
      .save(lotForm(number, { story: 'Something else', ...change } as Record<string, string>))
      .catch((reason) => reason)
    const told =
      refusal.cause.fields?.[field] ?? refusal.cause.issues?.find((issue: { path: string[] }) => issue.path[0] === field)?.message
    expect(told).toContain(words)
    expect(await maker.lots.prepared({ lot: number })).toEqual(before)
  })

  it('reads full-width digits as what they are', async () => {
    const { number } = await makePreparedLot(stage)
    const maker = await stage.as('maker')
    await maker.lots.save(lotForm(number, { opening: '２５', weightGrams: '２４００' }))
    expect((await maker.lots.prepared({ lot: number })).row).toMatchObject({ openingMinor: 2500, weightGrams: 2400 })
  })

  it('reads postage by country, and refuses a country that is named twice', async () => {
    const { number } = await makePreparedLot(stage)
    const maker = await stage.as('maker')
    const [home] = postageRows
    if (!home) throw new Error('there is a row')
    await expect(maker.lots.savePostage({ lot: number, rows: [home, home] })).rejects.toThrow('GB is already in a line above')
    await expect(maker.lots.savePostage({ lot: number, rows: [{ ...home, countries: 'Britain' }] })).rejects.toThrow(
      "is not a country's two letters",
    )
    await maker.lots.savePostage({ lot: number, rows: [home, { zone: 'The rest', countries: 'everywhere else', amount: '30' }] })
    expect((await maker.lots.prepared({ lot: number })).postage.map(({ countries }) => countries)).toEqual([['GB'], ['*']])
  })

  it('refuses a photograph that never arrived', async () => {
    const { number } = await makePreparedLot(stage)
    await expect((await stage.as('maker')).lots.addPhotograph({ lot: number, sha: 'f'.repeat(64), caption: 'Back' })).rejects.toThrow(
      'Add the photograph again',
    )
  })

  it('shows a draft to nobody until it is listed', async () => {
    const { number } = await makePreparedLot(stage)
    await expect(stage.visitor().lotPage.page({ lot: number })).rejects.toThrow('There is no lot 1.')
    await (await stage.as('maker')).lots.publish({ lot: number })
    expect((await stage.visitor().lotPage.page({ lot: number })).card).toMatchObject({ number, state: 'ready', unit: 'TERN-03' })
  })
})

describe('a lot sold elsewhere', () => {
  it('has the same closing, takes no bid here, and its result is entered by hand once it has closed', async () => {
    const { number } = await makePreparedLot(stage, { form: { soldWhere: 'elsewhere', elsewhereUrl: 'https://market.example/7' } })
    const maker = await stage.as('maker')
    await maker.bidding.open({ lot: number })
    await expect((await stage.as('bidder', 'Ines')).bidding.place({ lot: number, key: 'k'.repeat(16), maximum: '50' })).rejects.toThrow(
      'sold elsewhere: https://market.example/7',
    )
    await expect(maker.bidding.elsewhereResult({ lot: number, hammer: '210', source: 'Told by the other house.' })).rejects.toThrow(
      'It has not closed yet',
    )
    stage.clock.pass(HOUR + MINUTE)
    await maker.bidding.elsewhereResult({ lot: number, hammer: '210', source: 'Told by the other house.' })
    expect((await stage.visitor().lotPage.page({ lot: number })).card).toMatchObject({ state: 'sold', hammerMinor: 21_000 })
  })
})
