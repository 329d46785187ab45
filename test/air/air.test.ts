import { afterEach, describe, expect, it } from 'vitest'
import { overlayKey } from '../../db/schema'
import { makeCampaign } from '../make/campaign'
import { makeOpenLot } from '../make/lot'
import { openStage, type Stage } from '../stage'

let stage: Stage
afterEach(() => stage.close())

describe('the overlay', () => {
  it('opens with its key and with nothing else', async () => {
    stage = openStage()
    await makeOpenLot(stage)
    expect(await stage.visitor().air.overlay({ key: '' })).toEqual({ isOpen: false })
    const { key } = await (await stage.as('host')).air.changeKey()
    expect(await stage.visitor().air.overlay({ key: `${key}x` })).toEqual({ isOpen: false })
    expect(await stage.visitor().air.overlay({ key })).toMatchObject({ isOpen: true, frames: { currency: 'GBP' } })
  })

  it('a new key shuts out the old one', async () => {
    stage = openStage()
    await makeCampaign(stage)
    const host = await stage.as('host')
    const old = await host.air.changeKey()
    const fresh = await host.air.changeKey()
    expect(await stage.visitor().air.overlay(old)).toEqual({ isOpen: false })
    expect(await stage.visitor().air.overlay(fresh)).toMatchObject({ isOpen: true })
  })

  it('the key is neither in the database nor in what is recorded', async () => {
    stage = openStage()
    await makeCampaign(stage)
    const { key } = await (await stage.as('maker')).air.changeKey()
    const kept = JSON.stringify([stage.db.select().from(overlayKey).all(), stage.facts()])
    expect(kept).not.toContain(key)
    expect(kept).toContain('overlay.key-changed')
  })

  it('names nobody without the key', async () => {
    stage = openStage()
    const { number } = await makeOpenLot(stage)
    await expect(stage.visitor().air.overlayNames({ key: 'wrong', lot: number })).rejects.toThrow('opens with its key')
  })
})

describe('names on the overlay', () => {
  it('a donor who withdraws consent vanishes from the overlay, and consent for the page is none for the stream', async () => {
    stage = openStage()
    const { number, unitId } = await makeOpenLot(stage)
    const maker = await stage.as('maker')
    const donor = async (name: string, consents: { page: boolean; stream: boolean; card: boolean }) => {
      const { id } = await maker.donors.add({ name, consents })
      await maker.donors.addGift({ donorId: id, kind: 'labour', words: 'soldering', minutes: 90, onlyForUnitId: unitId })
      return id
    }
    const ines = await donor('Ines Abreu', { page: false, stream: true, card: false })
    await donor('Bo Ferris', { page: true, stream: false, card: true })
    const { key } = await maker.air.changeKey()
    expect(await stage.visitor().air.overlayNames({ key, lot: number })).toEqual(['Ines Abreu'])
    await maker.donors.consent({ donorId: ines, use: 'stream', given: false })
    expect(await stage.visitor().air.overlayNames({ key, lot: number })).toEqual([])
  })
})

describe('the host', () => {
  it('sees programme, lots, meter and whether all is held', async () => {
    stage = openStage()
    const { number } = await makeOpenLot(stage)
    const host = await stage.as('host')
    expect(await host.air.host()).toMatchObject({ standingHold: null, overlayKeyMadeAt: null, lots: { lots: [{ number, state: 'open' }] } })
    await host.bidding.holdAll({ reason: 'The stream is down.' })
    expect(await host.air.host()).toMatchObject({ standingHold: { reason: 'The stream is down.' }, lots: { lots: [{ state: 'held' }] } })
  })

  it('has the story and the record at hand', async () => {
    stage = openStage()
    const { number } = await makeOpenLot(stage)
    const sheet = await (await stage.as('host')).air.cueSheet({ lot: number })
    expect(sheet).toMatchObject({ lot: number, story: 'Built over nine evenings from gifts.', names: [], friends: 0 })
    expect(sheet.record).not.toEqual([])
  })

  it('before there is a campaign has nothing on air', async () => {
    stage = openStage()
    expect(await (await stage.as('host')).air.host()).toBeNull()
  })
})
