import { afterEach, expect, it } from 'vitest'
import { ADDRESSES } from '#doors/web/addresses'
import { HOUR, MINUTE } from '#kernel/instant'
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

it('a hold stamps the calendar of each lot that stands anew, alone or with all, and so does going on', async () => {
  stage = openStage()
  const { number } = await makeOpenLot(stage, { closesIn: 3 * HOUR })
  const host = await stage.as('host')
  await host.programme.plan({ kind: 'closing', lot: number, on: '2027-03-13', at: '15:00', announce: true })
  const entry = async () => {
    const body = (await ask(`/lots/${number}/closing.ics`))?.body ?? ''
    const [stamp, sequence, status] = ['DTSTAMP', 'SEQUENCE', 'STATUS'].map((name) => body.match(`${name}:(.*)\r`)?.[1])
    return { stamp, sequence: Number(sequence), status, alarms: body.split('BEGIN:VALARM').length - 1 }
  }
  const seen = [await entry()]
  const after = async (act: () => Promise<unknown>) => {
    stage.clock.set(stage.clock.now() + MINUTE)
    await act()
    seen.push(await entry())
  }
  await after(() => host.programme.hold({ lot: number, reason: 'A reading is looked at.' }))
  await after(() => host.programme.resume({ lot: number }))
  await after(() => host.programme.holdAll({ reason: 'The stream was lost.' }))
  await after(() => host.programme.resumeAll())
  expect(seen.map(({ status, alarms }) => `${status} ${alarms}`)).toEqual([
    'CONFIRMED 2',
    'TENTATIVE 0',
    'CONFIRMED 2',
    'TENTATIVE 0',
    'CONFIRMED 2',
  ])
  const rises = (values: unknown[]) => expect(new Set(values).size).toBe(seen.length)
  rises(seen.map(({ stamp }) => stamp))
  rises(seen.map(({ sequence }) => sequence))
  expect(seen.map(({ sequence }) => sequence)).toEqual(seen.map(({ sequence }) => sequence).toSorted((a, b) => a - b))
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
