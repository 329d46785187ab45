import { afterEach, describe, expect, it } from 'vitest'
import { makeOpenLot } from '../make/lot'
import { openStage, type Stage } from '../stage'

let stage: Stage
afterEach(() => stage.close())

const YES = { page: true, stream: true, card: false }

/** An open lot, a donor who gave an afternoon's help for its unit, and one who gave something for nobody in particular. */
async function givenTo() {
  stage = openStage()
  const { number, unitId } = await makeOpenLot(stage)
  const maker = await stage.as('maker')
  const donor = async (name: string, more: object = {}) => (await maker.donors.add({ name, consents: YES, ...more })).id
  const ines = await donor('Ines Abreu', { sayIt: 'ee-NESH' })
  const bo = await donor('Bo Ferris')
  const gift = (donorId: string, more: object = {}) =>
    maker.donors.addGift({ donorId, kind: 'labour', words: 'soldering', minutes: 90, ...more })
  await gift(ines, { onlyForUnitId: unitId })
  await gift(bo)
  return { maker, number, ines, bo, donor, gift, unitId }
}

describe('credits', () => {
  it('of a lot name who gave for its unit, of the campaign everybody', async () => {
    const { number } = await givenTo()
    expect(await stage.visitor().credits.forLot({ number })).toMatchObject({ names: ['Ines Abreu'], unit: 'TERN-03' })
    expect((await stage.visitor().credits.forUnit({ tag: 'tern-03' })).names).toEqual(['Ines Abreu'])
    expect((await stage.visitor().credits.all())?.all.names).toEqual(['Bo Ferris', 'Ines Abreu'])
  })

  it('a donor who withdraws consent vanishes from the page at once', async () => {
    const { maker, number, ines } = await givenTo()
    await maker.donors.consent({ donorId: ines, use: 'page', given: false })
    expect((await stage.visitor().credits.forLot({ number })).names).toEqual([])
    expect((await stage.visitor().credits.all())?.all.names).toEqual(['Bo Ferris'])
    expect((await stage.visitor().credits.all())?.text).not.toContain('Ines')
  })

  it('say no id, no gift and no amount', async () => {
    const { ines } = await givenTo()
    const told = JSON.stringify(await stage.visitor().credits.all())
    expect(told).not.toContain(ines)
    expect(told).not.toMatch(/solder|90|minutes|amount/)
  })

  it('an unknown lot and an unknown unit are refused in words', async () => {
    await givenTo()
    await expect(stage.visitor().credits.forLot({ number: 99 })).rejects.toThrow('no lot 99')
    await expect(stage.visitor().credits.forUnit({ tag: 'NOPE-01' })).rejects.toThrow('no unit NOPE-01')
  })
})
