import { afterEach, beforeEach, expect, test } from 'vitest'
import { HOUR, MINUTE } from '#kernel/instant'
import { civilParts } from '#sale/programme/civil-time.rules'
import { makeCampaign } from '#test/make/campaign'
import { lotForm, makeTestedUnit } from '#test/make/lot'
import { NOON, openStage, type Stage } from '#test/stage'

let stage: Stage
let maker: Awaited<ReturnType<Stage['as']>>
beforeEach(async () => {
  stage = openStage()
  await makeCampaign(stage)
  maker = await stage.as('maker')
  for (const [tag, likely] of [
    ['TERN-01', '180'],
    ['LARK-02', '300'],
    ['WREN-03', '90'],
  ] as const) {
    await makeTestedUnit(stage, { tag })
    const { number } = await maker.lots.start({ unit: tag })
    await maker.lots.save(lotForm(number, { likely, low: '50', high: '400' }))
  }
})
afterEach(() => stage.close())

const SETTINGS = { before: '10', after: '5', allowance: '10', likeApart: '60', best: '70', dearestNotFirst: true }

const planned = async (settings: Partial<typeof SETTINGS> = {}) => {
  await maker.planning.start({ ...SETTINGS, ...settings })
  await expect.poll(async () => (await maker.planning.present())?.running?.state, { timeout: 20_000 }).toMatch(/done|nothing-fits|failed/)
  const view = await maker.planning.present()
  if (!view) throw new Error('there is a campaign')
  return view
}

/** An instant as the forms of the day take it. */
const typed = async (at: number) => civilParts(at, (await maker.programme.day())?.zone ?? 'UTC')

const dayOf = async () => (await maker.programme.day())?.items.filter(({ kind }) => kind === 'closing') ?? []

test('a day is planned, shown with its proof, and taken over all at once', async () => {
  const view = await planned()
  expect(view.running).toMatchObject({ state: 'done' })
  expect(view.running?.bestMinor).toBe(view.running?.boundMinor)
  expect(view.planned.map(({ lot }) => lot)).toEqual([1, 2, 3])
  expect(await dayOf()).toEqual([])
  expect(await maker.planning.adopt()).toEqual({ moved: 3 })
  expect((await dayOf()).map(({ lot, startsAt }) => ({ lot, startsAt })).sort((a, b) => (a.lot ?? 0) - (b.lot ?? 0))).toEqual(
    view.planned.map(({ lot, at }) => ({ lot, startsAt: at })),
  )
  const first = [...view.planned].sort((a, b) => a.at - b.at)[0]
  expect(first?.lot).not.toBe(2)
})

test('a wish for a lot that was announced says that no plan moves it, and whether it is kept', async () => {
  const at = NOON + 2 * HOUR
  const wishes = [
    { kind: 'not-before' as const, ...(await typed(at + HOUR)), isKept: false },
    { kind: 'not-after' as const, ...(await typed(at)), isKept: true },
  ]
  for (const { isKept: _, ...wish } of wishes) await maker.planning.wish({ lot: 3, ...wish, weight: '3' })
  expect((await maker.planning.present())?.wishes.map(({ settled }) => settled)).toEqual([null, null])
  await maker.programme.plan({ kind: 'closing', lot: 3, ...(await typed(at)), announce: true })
  const settled = (await planned()).wishes.map((one) => [one.kind, one.settled] as const)
  expect(Object.fromEntries(settled)).toEqual(Object.fromEntries(wishes.map(({ kind, isKept }) => [kind, { at, isKept }])))
})

test('closings that were announced stay where they are, and the others go round them', async () => {
  const at = NOON + 2 * HOUR
  await maker.programme.plan({ kind: 'closing', lot: 3, ...(await typed(at)), announce: true })
  const view = await planned()
  expect(view.planned.map(({ lot }) => lot)).toEqual([1, 2])
  for (const one of view.planned) expect(Math.abs(one.at - at)).toBeGreaterThanOrEqual(25 * MINUTE)
  expect(await maker.planning.adopt()).toEqual({ moved: 2 })
  expect((await dayOf()).find(({ lot }) => lot === 3)?.startsAt).toBe(at)
})

test('pins that cannot be kept together are named, each by the words of its wish, and dropping one helps', async () => {
  const when = await typed(NOON + 2 * HOUR)
  await maker.planning.wish({ lot: 1, kind: 'at', ...when, isPin: true })
  const { wishId } = await maker.planning.wish({ lot: 3, kind: 'at', ...when, isPin: true })
  const view = await planned()
  expect(view.running?.state).toBe('nothing-fits')
  expect(view.together.map(({ words }) => words).sort()).toEqual([`lot 1 at ${when.at}`, `lot 3 at ${when.at}`])
  await expect(maker.planning.adopt()).rejects.toThrow('no plan')
  await maker.planning.dropWish({ wishId })
  expect((await planned()).running?.state).toBe('done')
})

test('a wish that is no pin says what keeping it may cost, as an amount', async () => {
  await expect(maker.planning.wish({ lot: 1, kind: 'last', weight: 'a lot' })).rejects.toThrow('not an amount')
  await maker.planning.wish({ lot: 3, kind: 'last', weight: '500' })
  const view = await planned()
  expect(view.prices.map(({ words, kept }) => ({ words, kept }))).toContainEqual({ words: 'lot 3 last of all', kept: true })
  const latest = [...view.planned].sort((a, b) => b.at - a.at)[0]
  expect(latest?.lot).toBe(3)
})

test('too many closings for the stream are said as minutes needed and minutes there', async () => {
  const { opensAt, closesAt } = (await maker.programme.day()) ?? { opensAt: 0, closesAt: 0 }
  const minutes = (closesAt - opensAt) / MINUTE
  const view = await planned({ after: '120', allowance: '120', before: '120' })
  expect(view.running?.state).toBe(3 * 360 > minutes ? 'nothing-fits' : 'done')
  if (view.running?.state === 'nothing-fits') expect(view.room).toEqual({ neededMinutes: 1080, thereMinutes: minutes })
})

test('a plan whose day has changed since is refused with what stands in the way', async () => {
  const view = await planned()
  const { at } = view.planned[0] ?? { at: NOON }
  await maker.programme.plan({ kind: 'break', ...(await typed(at)), minutes: '20' })
  await expect(maker.planning.adopt()).rejects.toThrow('break')
  expect(await dayOf()).toEqual([])
})

test('a wish for a guest names one of the day', async () => {
  await expect(maker.planning.wish({ lot: 1, kind: 'guest', guest: 'nobody', isPin: true })).rejects.toThrow('Choose the guest')
})
