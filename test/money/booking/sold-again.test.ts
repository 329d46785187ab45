import { afterEach, describe, expect, test } from 'vitest'
import { lotsAddresses } from '#sale/lots/lots.address'
import { atomOf } from '#sale/programme/atom.rules'
import { readChanges } from '#sale/programme/changes.service'
import { refusedAt } from '#test/make/refusal'
import { formKey, makeSoldLot } from '#test/make/sold'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

async function defaulted() {
  stage = openStage()
  const made = await makeSoldLot(stage)
  await made.treasurer.booking.fallThrough({ key: formKey(), lot: made.number, why: 'It was never paid.' })
  return { ...made, maker: await stage.as('maker') }
}

const inFeed = (number: number): unknown => {
  const body = lotsAddresses[0]?.answer(stage.sight(), {}, new URLSearchParams())?.body
  return JSON.parse(String(body)).lots.find((lot: { number: number }) => lot.number === number)
}

describe('a lot whose sale fell through', () => {
  test('says so wherever its price is named: page, frame, list, statement and feed', async () => {
    const { number, books } = await defaulted()
    expect(inFeed(number)).toMatchObject({ state: 'sold', hammerMinor: 5000, standsMinor: 0 })
    expect(await stage.visitor().bidding.frame({ lot: number })).toMatchObject({ hammerMinor: 5000, standsMinor: 0 })
    expect((await stage.visitor().lotPage.page({ lot: number })).card).toMatchObject({ standsMinor: 0, reached: 4 })
    expect((await books()).statement.lots[0]).toMatchObject({ fellAtMinor: 5000, hammerMinor: 0, state: 'fell through' })
    const day = readChanges(stage.sight())
    const atom = atomOf(day, { publicUrl: 'https://bench.example', startedAt: 0, year: 2027, headOf: () => null })
    expect(atom).toMatch(/The sale of .* fell through\./)
  })

  test('lets its machine be sold again in a new lot, and cannot stand again while it is there', async () => {
    const { number, maker, treasurer } = await defaulted()
    expect(await maker.lots.startable()).toContain('TERN-03')
    const { number: second } = await maker.lots.start({ unit: 'TERN-03' })
    expect(second).toBe(number + 1)
    expect((await refusedAt(maker.lots.start({ unit: 'TERN-03' }))).unit).toContain(`lot ${second} already`)
    const fell = (await treasurer.books.all())?.journal.find(({ kind }) => kind === 'reversal')
    const refused = await refusedAt(treasurer.booking.correct({ key: formKey(), entryId: fell?.id ?? '', why: 'It was paid after all.' }))
    expect(Object.values(refused).join()).toContain(`is in lot ${second} now`)
    expect(await refusedAt(maker.lots.afterwards({ lot: number, as: 'kept' }))).toHaveProperty('lot')
    // A machine that is sold and stands cannot be put into another.
    expect(inFeed(number)).toMatchObject({ standsMinor: 0 })
  })

  test('stands again when the entry is reversed, and a lowered price is told everywhere', async () => {
    const { number, maker, treasurer } = await defaulted()
    await maker.lots.afterwards({ lot: number, as: 'kept' })
    expect(inFeed(number)).toMatchObject({ afterwards: 'kept' })
    const fell = (await treasurer.books.all())?.journal.find(({ kind }) => kind === 'reversal')
    await treasurer.booking.correct({ key: formKey(), entryId: fell?.id ?? '', why: 'It was paid after all.' })
    expect(inFeed(number)).not.toHaveProperty('standsMinor')
    expect(inFeed(number)).not.toHaveProperty('afterwards')
    expect((await refusedAt(maker.lots.start({ unit: 'TERN-03' }))).unit).toContain('already')
    await treasurer.booking.reduce({ key: formKey(), lot: number, amount: '5', why: 'The dial is cracked.' })
    expect(inFeed(number)).toMatchObject({ hammerMinor: 5000, standsMinor: 4500 })
  })
})
