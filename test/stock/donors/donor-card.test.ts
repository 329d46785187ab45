import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { setDonorCard } from '#stock/donors/donor-card-paper'
import { openStageDoor } from '#test/doors/web/open-door'
import { wordsOf } from '#test/paper/read-pdf'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
let door: Awaited<ReturnType<typeof openStageDoor>>
beforeAll(async () => {
  stage = openStage({ now: Date.now() })
  door = await openStageDoor(stage)
}, 60_000)
afterAll(() => {
  door.close()
  stage.close()
})

const get = async (path: string, role: 'maker' | 'bidder' | null) => {
  const cookie = role === null ? '' : await door.sessionOf((await stage.actor(role)).personId)
  return fetch(door.url + path, { headers: { cookie } })
}
const common = { size: 'letter', author: 'Long Bench', at: Date.UTC(2027, 2, 14) } as const

describe('the card for a donor', () => {
  test('names what was given and no value', async () => {
    const words = await wordsOf(
      await setDonorCard({
        ...common,
        of: 'donor-card',
        name: 'Ines Abreu',
        campaign: 'Long Bench Day',
        gifts: ['20 crystals: fitted'],
      }),
    )
    expect(words).toContain('Thank you, Ines Abreu')
    expect(words).toContain('20 crystals: fitted')
  })

  test('is not printed for a donor who did not agree to one', async () => {
    const maker = await stage.as('maker')
    const donor = await maker.donors.add({
      name: 'Ines Abreu',
      creditName: 'Ines Abreu',
      sayIt: '',
      contact: '',
      anonymity: 'named',
      consents: { page: true, stream: true, card: false },
    })
    const answer = await get(`/bench/donors/${donor.id}/card.pdf`, 'maker')
    expect(answer.status).toBe(412)
    expect(await answer.text()).toContain('has not agreed')
  })
})
