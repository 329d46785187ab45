import { afterEach, describe, expect, it } from 'vitest'
import { OVERLAY_NAMES, overlaysIn } from '#air/screens/overlay.contract'
import { overlayKey } from '#db/schema/index'
import { LIVE_TOPICS } from '#doors/web/topics'
import { topicFor } from '#runtime/live/live'
import { headAddress, readHeadFragment } from '#sale/history/head-address.rules'
import { makeCampaign } from '#test/make/campaign'
import { makeOpenLot } from '#test/make/lot'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

describe('the key of the overlays', () => {
  it('opens them, and nothing else does', async () => {
    stage = openStage()
    await makeOpenLot(stage)
    expect(await stage.visitor().air.overlay({ key: '' })).toEqual({ isOpen: false })
    const { key } = await (await stage.as('host')).air.changeKey()
    expect(await stage.visitor().air.overlay({ key: `${key}x` })).toEqual({ isOpen: false })
    expect(await (await stage.as('bidder')).air.overlay({ key: '' })).toEqual({ isOpen: false })
    expect(await stage.visitor().air.overlay({ key })).toMatchObject({
      isOpen: true,
      frames: { currency: 'GBP', campaign: 'Long Bench Day' },
    })
  })

  it('a new one shuts out the old one, even within the same millisecond, and screens are told at once', async () => {
    stage = openStage()
    await makeCampaign(stage)
    const host = await stage.as('host')
    const frame = () => topicFor(LIVE_TOPICS, 'overlay')?.frame(stage.sight(), 'overlay')
    expect(frame()).toEqual({ keyMadeAt: null, hold: null })
    const old = await host.air.changeKey()
    const before = frame()
    const fresh = await host.air.changeKey()
    expect(frame()).not.toEqual(before)
    expect(fresh.key).not.toBe(old.key)
    expect(await stage.visitor().air.overlay(old)).toEqual({ isOpen: false })
    expect(await stage.visitor().air.overlay(fresh)).toMatchObject({ isOpen: true })
    expect(topicFor(LIVE_TOPICS, 'overlay')?.touchedBy({ kind: 'overlay.key-changed', subject: 'overlay', body: {} })).toEqual(['overlay'])
  })

  it('is neither in the database nor in what is recorded, and the staff on air are told it again', async () => {
    stage = openStage()
    await makeCampaign(stage)
    const maker = await stage.as('maker')
    const { key } = await maker.air.changeKey()
    const kept = JSON.stringify([stage.db.select().from(overlayKey).all(), stage.facts()])
    expect(kept).not.toContain(key)
    expect(kept).toContain('overlay.key-changed')
    expect((await maker.air.overlays()).key).toBe(key)
  })

  it('one that another house made is not told, and still opens', async () => {
    stage = openStage()
    await makeCampaign(stage)
    const host = await stage.as('host')
    await host.air.changeKey()
    // SHA-256 of "abc", FIPS 180-4.
    stage.db.update(overlayKey).set({ digest: 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad' }).run()
    expect(await host.air.overlays()).toMatchObject({ key: null, keyMadeAt: expect.any(Number) })
    expect(await stage.visitor().air.overlay({ key: 'abc' })).toMatchObject({ isOpen: true })
  })

  it('names nobody and shows no card without it; the staff need none for their preview', async () => {
    stage = openStage()
    const { number } = await makeOpenLot(stage)
    await expect(stage.visitor().air.overlayNames({ key: 'wrong', lot: number })).rejects.toThrow('opens with its key')
    await expect(stage.visitor().air.overlayCredits({ key: 'wrong' })).rejects.toThrow('opens with its key')
    await expect(stage.visitor().air.overlayCard({ key: 'wrong', lot: number })).rejects.toThrow('opens with its key')
    await expect((await stage.as('treasurer')).air.overlayNames({ key: '', lot: number })).rejects.toThrow('opens with its key')
    expect(await (await stage.as('host')).air.overlayNames({ key: '', lot: number })).toMatchObject({ names: [] })
  })

  it('nothing that it opens changes anything', async () => {
    stage = openStage()
    const { number } = await makeOpenLot(stage)
    const { key } = await (await stage.as('host')).air.changeKey()
    const facts = stage.facts().length
    await stage.visitor().air.overlay({ key })
    await stage.visitor().air.overlayCard({ key, lot: number })
    await stage.visitor().air.overlayNames({ key, lot: number })
    await stage.visitor().air.overlayCredits({ key })
    expect(stage.facts()).toHaveLength(facts)
  })
})

describe('what stands in the picture', () => {
  it('a donor who withdraws consent vanishes, and consent for the page is none for the stream', async () => {
    stage = openStage()
    const { number, unitId } = await makeOpenLot(stage)
    const maker = await stage.as('maker')
    const donor = async (name: string, consents: { page: boolean; stream: boolean; card: boolean }) => {
      const { id } = await maker.donors.add({ name, consents })
      await maker.gifts.add({ donorId: id, kind: 'labour', words: 'soldering', minutes: 90, onlyForUnitId: unitId })
      return id
    }
    const ines = await donor('Ines Abreu', { page: false, stream: true, card: false })
    await donor('Bo Ferris', { page: true, stream: false, card: true })
    const { key } = await maker.air.changeKey()
    const named = async () => (await stage.visitor().air.overlayNames({ key, lot: number })).names
    expect(await named()).toEqual(['Ines Abreu'])
    await maker.donors.consent({ donorId: ines, use: 'stream', given: false })
    expect(await named()).toEqual([])
  })

  it('a card has its extras, and gauges only of what passed', async () => {
    stage = openStage()
    const { number } = await makeOpenLot(stage)
    const { key } = await (await stage.as('host')).air.changeKey()
    const card = await stage.visitor().air.overlayCard({ key, lot: number })
    expect(card).toMatchObject({ lot: number, extras: ['A printed booklet', 'A spare valve'] })
    expect(card?.gauges.every(({ verdict }) => verdict.startsWith('pass'))).toBe(true)
  })

  it('a hold of all clocks is told with its reason', async () => {
    stage = openStage()
    await makeOpenLot(stage)
    await (await stage.as('host')).programme.holdAll({ reason: 'The stream is down.' })
    expect(topicFor(LIVE_TOPICS, 'overlay')?.frame(stage.sight(), 'overlay')).toMatchObject({ hold: { reason: 'The stream is down.' } })
  })

  it.each([
    ['price', ['price']],
    ['meter,price', ['price', 'meter']],
    [' hold , result ', ['result', 'hold']],
    ['everything', []],
    ['', []],
  ])('the address "%s" asks for %o', (address, shows) => {
    stage = openStage()
    expect(overlaysIn(address)).toEqual(shows)
    expect(OVERLAY_NAMES).toEqual(expect.arrayContaining(shows))
  })
})

describe('the head of a history as a code', () => {
  const root = 'ab'.repeat(32)
  it('is an address that opens the history, with the whole head where no server sees it', () => {
    stage = openStage()
    const address = headAddress('https://bench.example', { lot: 7, size: 19, root })
    expect(address).toBe(`https://bench.example/lots/7/history#head=19-${root}`)
    expect(readHeadFragment(new URL(address).hash)).toEqual({ size: 19, root })
  })
  it.each(['', '#', '#head=', `#head=0-${root}`, `#head=19-${root.slice(1)}`, `#head=19-${root}0`, '#entries'])(
    '"%s" holds none',
    (fragment) => {
      stage = openStage()
      expect(readHeadFragment(fragment)).toBeNull()
    },
  )
})
