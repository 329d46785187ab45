import { afterEach, expect, it } from 'vitest'
import { ADDRESSES } from '#doors/web/addresses'
import { matchAddress } from '#runtime/call/address'
import { makeCampaign } from '#test/make/campaign'
import { makeBidder, makeOpenLot } from '#test/make/lot'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

async function ask(path: string) {
  const match = matchAddress(ADDRESSES, path)
  if (!match) throw new Error(`there is no address ${path}`)
  const answer = await match.address.answer(stage.sight(), match.params, new URLSearchParams())
  return answer && { type: answer.type, body: String(answer.body) }
}
const read = async (path: string) => JSON.parse((await ask(path))?.body ?? 'null')

it('the money tells its four states in minor units with the currency beside them', async () => {
  stage = openStage()
  const { number } = await makeOpenLot(stage)
  await (await makeBidder(stage, 'Ada')).bid(number, '60')
  expect(await read('/proceeds.json')).toMatchObject({
    currency: 'GBP',
    targetMinor: 300_000,
    bidMinor: 2_000,
    wonMinor: 0,
    paidMinor: 0,
    remittedMinor: 0,
    at: '2027-03-13T12:00:00.000Z',
  })
})

it('the programme is told with instants in UTC and as a calendar', async () => {
  stage = openStage()
  await makeCampaign(stage)
  const maker = await stage.as('maker')
  await maker.programme.plan({ kind: 'guest', title: 'Ines Abreu', on: '2027-03-13', at: '15:00', minutes: '30', announce: true })
  expect(await read('/programme.json')).toMatchObject({
    zone: 'Europe/London',
    items: [{ kind: 'guest', title: 'Ines Abreu', lot: null, startsAt: '2027-03-13T15:00:00.000Z', endsAt: '2027-03-13T15:30:00.000Z' }],
  })
  const calendar = await ask('/programme.ics')
  expect(calendar?.type).toBe('text/calendar; charset=utf-8')
  expect(calendar?.body).toContain('DTSTART:20270313T150000Z')
})

it('the credits are told by lot, with links as paths', async () => {
  stage = openStage()
  const { number } = await makeOpenLot(stage)
  expect(await read('/credits.json')).toMatchObject({
    names: [],
    lots: [{ number, unit: 'TERN-03', names: [], links: { lot: `/lots/${number}`, record: '/units/TERN-03' } }],
  })
})

it('before there is a campaign none of them is there', async () => {
  stage = openStage()
  for (const path of ['/proceeds.json', '/programme.json', '/programme.ics', '/credits.json']) expect(await ask(path)).toBeNull()
})
