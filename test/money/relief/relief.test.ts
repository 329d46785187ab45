import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterEach, expect, it } from 'vitest'
import { makeBidder, makeOpenLot, makePreparedLot } from '#test/make/lot'
import { refusedAt } from '#test/make/refusal'
import { formKey, makeSoldLot } from '#test/make/sold'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

it('is off until it is asked for, and then for the buyer of that country and the books alone', async () => {
  stage = openStage()
  const { treasurer, number, ada, bo } = await makeSoldLot(stage)
  const seenBy = async (caller: typeof treasurer) => (await caller.relief.ofLot({ lot: number })).map(({ country }) => country)
  expect(await seenBy(ada.caller)).toEqual([])
  await treasurer.relief.switch({ country: 'US', isOn: true })
  expect(await seenBy(ada.caller)).toEqual([])
  await treasurer.relief.switch({ country: 'GB', isOn: true })
  expect(await seenBy(ada.caller)).toEqual(['GB'])
  expect(await seenBy(treasurer)).toEqual(['GB'])
  expect(await seenBy(bo.caller)).toEqual([])
  expect(await seenBy(await stage.as('volunteer'))).toEqual([])
  await treasurer.booking.fallThrough({ key: formKey(), lot: number, why: 'The buyer cannot be reached.' })
  expect(await seenBy(ada.caller)).toEqual([])
})

it('a value is published before the lot opens or not at all, and stands there for all to read', async () => {
  stage = openStage()
  const { number } = await makePreparedLot(stage)
  const maker = await stage.as('maker')
  const publish = (value: string, knownFrom: string) => maker.relief.publishValue({ lot: number, value, knownFrom })
  expect((await refusedAt(publish('0', 'a list'))).value).toContain('above zero')
  expect((await refusedAt(publish('150', ''))).knownFrom).toContain('where the price can be seen')
  await publish('150', 'the kit maker’s list of January')
  await maker.bidding.open({ lot: number })
  expect((await refusedAt(publish('10', 'another list'))).lot).toContain('has opened')
  expect(await stage.visitor().relief.value({ lot: number })).toMatchObject({ valueMinor: 15_000 })
})

it('a value that was taken away is gone, and an unknown lot has none', async () => {
  stage = openStage()
  const { number } = await makePreparedLot(stage)
  const treasurer = await stage.as('treasurer')
  await treasurer.relief.publishValue({ lot: number, value: '150', knownFrom: 'a list' })
  await treasurer.relief.publishValue({ lot: number, value: '', knownFrom: '' })
  expect((await treasurer.relief.desk())?.lots[0]).toMatchObject({ valueMinor: null, isOpenToChange: true })
  expect(await stage.visitor().relief.value({ lot: 99 })).toBeNull()
})

it('an open lot that nobody won has no estimate', async () => {
  stage = openStage()
  const { number } = await makeOpenLot(stage)
  const ada = await makeBidder(stage, 'Ada')
  expect(await ada.caller.relief.ofLot({ lot: number })).toEqual([])
})

it('no page, letter or paper for donors of goods knows of it', () => {
  const root = join(import.meta.dirname, '..', '..', '..')
  const rooms = ['server/gifts', 'server/stock/donors', 'app/(public)/yours', 'app/(public)/credits']
  const files = rooms.flatMap((room) =>
    readdirSync(join(root, room), { recursive: true, encoding: 'utf8' }).map((name) => join(root, room, name)),
  )
  const code = files.filter((name) => /\.tsx?$/.test(name))
  expect(code.length).toBeGreaterThan(20)
  expect(code.filter((name) => /relief/i.test(readFileSync(name, 'utf8')))).toEqual([])
})
