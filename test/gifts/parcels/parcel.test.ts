import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { pieceTag } from '#stock/shelf/piece.rules'
import { makeDonor, makePart, makeUnits } from '#test/make/shelf'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

const volunteer = () => stage.as('volunteer')

async function promisedDisplays(quantity = 6) {
  const donor = await makeDonor(stage)
  const part = await makePart(stage)
  const gift = await (await stage.as('maker')).gifts.add({ donorId: donor.id, kind: 'parts', partId: part.id, quantity })
  return { donor, part, gift }
}

const key = 'phone-1-parcel-1'

describe('a volunteer logs a parcel', () => {
  test('from a known donor: it meets the promise that was waiting and says what it unblocked', async () => {
    const { donor, part, gift } = await promisedDisplays()
    await makeUnits(stage, ['WREN-05', 'WREN-06'], { [part.id]: 6 })
    const kept = await (await volunteer()).parcels.log({ key, donorId: donor.id, lines: [{ partId: part.id, quantity: '6' }] })
    expect(kept).toMatchObject({
      donorName: 'Ines Abreu',
      lines: [{ what: 'Display, 14 mm', quantity: 6, batchCode: 'B-0001', wasPromised: true }],
      unblocked: ['WREN-05'],
    })
    const page = await (await volunteer()).outcome.donorPage({ donorId: donor.id })
    expect(page.gifts).toMatchObject([{ id: gift.id, state: 'counted', quantity: 6, parcelId: kept.parcelId }])
    expect(page.changes.map(({ was, now }) => `${was} → ${now}`)).toEqual(['promised → arrived', 'arrived → counted'])
    expect(stage.facts().map((fact) => fact.kind)).toContain('parcel.logged')
  })

  test('from a new donor, with what they consented to', async () => {
    const part = await makePart(stage)
    const newDonor = { name: 'Tomas Berg', sayIt: 'TOH-mas', consents: { page: true, stream: false, card: false } }
    await (await volunteer()).parcels.log({ key, newDonor, lines: [{ partId: part.id, quantity: 2 }] })
    const { donors } = await (await volunteer()).donors.list()
    expect(donors).toMatchObject([
      {
        name: 'Tomas Berg',
        creditName: 'Tomas Berg',
        sayIt: 'TOH-mas',
        approved: true,
        consents: { page: true, stream: false, card: false },
      },
    ])
  })

  test('sent again with the same key it is one parcel and the same answer', async () => {
    const { donor, part } = await promisedDisplays()
    const parcel = { key, donorId: donor.id, lines: [{ partId: part.id, quantity: 6 }] }
    const first = await (await volunteer()).parcels.log(parcel)
    const again = await (await volunteer()).parcels.log(parcel)
    expect(again).toEqual(first)
    expect(await (await volunteer()).parcels.list()).toHaveLength(1)
    expect((await (await volunteer()).buildable.part({ partId: part.id })).batches).toHaveLength(1)
  })

  test('the same key with other content is refused', async () => {
    const { donor, part } = await promisedDisplays()
    await (await volunteer()).parcels.log({ key, donorId: donor.id, lines: [{ partId: part.id, quantity: 6 }] })
    const other = (await volunteer()).parcels.log({ key, donorId: donor.id, lines: [{ partId: part.id, quantity: 5 }] })
    await expect(other).rejects.toThrow('already sent with different content')
  })

  test('a partial arrival splits the line: four have come, two stay promised', async () => {
    const { donor, part, gift } = await promisedDisplays(6)
    await (await volunteer()).parcels.log({ key, donorId: donor.id, lines: [{ promiseId: gift.id, quantity: 4 }] })
    const { gifts } = await (await volunteer()).outcome.donorPage({ donorId: donor.id })
    expect(gifts.map(({ state, quantity, splitFromId }) => ({ state, quantity, splitFromId }))).toEqual([
      { state: 'promised', quantity: 2, splitFromId: gift.id },
      { state: 'counted', quantity: 4, splitFromId: null },
    ])
    expect((await (await volunteer()).buildable.part({ partId: part.id })).batches).toMatchObject([{ quantity: 4, inHand: 4 }])
  })

  test('more than was promised is one batch and a corrected line', async () => {
    const { donor, part } = await promisedDisplays(6)
    await (await volunteer()).parcels.log({ key, donorId: donor.id, lines: [{ partId: part.id, quantity: 8 }] })
    const { gifts, changes } = await (await volunteer()).outcome.donorPage({ donorId: donor.id })
    expect(gifts).toMatchObject([{ state: 'counted', quantity: 8 }])
    expect(changes[0]).toMatchObject({ what: 'quantity', was: '6', now: '8', reason: 'more came than was promised' })
  })

  test('a promise is met once only', async () => {
    const { donor, gift } = await promisedDisplays()
    await (await volunteer()).parcels.log({ key, donorId: donor.id, lines: [{ promiseId: gift.id, quantity: 6 }] })
    const twice = (await volunteer()).parcels.log({ key: 'another-key', donorId: donor.id, lines: [{ promiseId: gift.id, quantity: 6 }] })
    await expect(twice).rejects.toThrow('has already been logged')
  })

  test('the promise of one donor is not met by the parcel of another, and nothing of it is kept', async () => {
    const { gift } = await promisedDisplays()
    const newDonor = { name: 'Somebody Else' }
    const wrong = (await volunteer()).parcels.log({ key, newDonor, lines: [{ promiseId: gift.id, quantity: 6 }] })
    await expect(wrong).rejects.toThrow('promised by somebody else')
    const { donors } = await (await volunteer()).donors.list()
    expect(donors.map((donor) => donor.name)).toEqual(['Ines Abreu'])
    expect(await (await volunteer()).parcels.list()).toEqual([])
  })

  test('chips that are programmed get a tag each, and none counts as good before it was read', async () => {
    const donor = await makeDonor(stage)
    const part = await makePart(stage, { kind: 'chip', name: 'Logic device', programmed: true })
    await (await volunteer()).parcels.log({
      key,
      donorId: donor.id,
      lines: [{ partId: part.id, quantity: 3, marking: 'PLD22', dateCode: '2431' }],
    })
    const { batches } = await (await volunteer()).buildable.part({ partId: part.id })
    expect(batches[0]).toMatchObject({ quantity: 3, inHand: 0, marking: 'PLD22', dateCode: '2431' })
    expect(batches[0]?.loose.map((piece) => piece.tag)).toEqual([1, 2, 3].map(pieceTag))
  })

  test('a thing that is in no catalogue is kept in words, without a batch', async () => {
    const donor = await makeDonor(stage)
    const kept = await (await volunteer()).parcels.log({ key, donorId: donor.id, lines: [{ words: 'Printed manual, 1974', quantity: 1 }] })
    expect(kept.lines).toEqual([{ what: 'Printed manual, 1974', quantity: 1, howCounted: 'counted', batchCode: null, wasPromised: false }])
  })

  test('the list of parcels says what each unblocked', async () => {
    const { donor, part } = await promisedDisplays(6)
    await makeUnits(stage, ['WREN-06'], { [part.id]: 6 })
    await (await volunteer()).parcels.log({ key, donorId: donor.id, lines: [{ partId: part.id, quantity: 6 }] })
    expect(await (await stage.as('maker')).parcels.list()).toMatchObject([
      { donorName: 'Ines Abreu', unblocked: ['WREN-06'], fittedIn: [], lines: [{ what: 'Display, 14 mm', batchCode: 'B-0001' }] },
    ])
  })
})

describe('a parcel that cannot be kept says why at its place, and nothing of it is kept', () => {
  const bad: [string, (ids: { donorId: string; partId: string }) => object, string, RegExp][] = [
    ['no donor', ({ partId }) => ({ lines: [{ partId, quantity: 1 }] }), 'donorId', /who it is from/],
    [
      'two donors',
      ({ donorId, partId }) => ({ donorId, newDonor: { name: 'x' }, lines: [{ partId, quantity: 1 }] }),
      'donorId',
      /who it is from/,
    ],
    [
      'an empty name',
      ({ partId }) => ({ newDonor: { name: ' ' }, lines: [{ partId, quantity: 1 }] }),
      'newDonor.name',
      /Say who it is from/,
    ],
    [
      'a name too long',
      ({ partId }) => ({ newDonor: { name: 'x'.repeat(121) }, lines: [{ partId, quantity: 1 }] }),
      'newDonor.name',
      /under 121/,
    ],
    [
      'an email address that is none',
      ({ partId }) => ({ newDonor: { name: 'x', contact: 'ines' }, lines: [{ partId, quantity: 1 }] }),
      'newDonor.contact',
      /email address/,
    ],
    ['no lines', ({ donorId }) => ({ donorId, lines: [] }), 'lines', /what came/],
    [
      'a quantity of −1',
      ({ donorId, partId }) => ({ donorId, lines: [{ partId, quantity: -1 }] }),
      'lines.0.quantity',
      /whole number from 1/,
    ],
    [
      'a quantity of nought',
      ({ donorId, partId }) => ({ donorId, lines: [{ partId, quantity: '0' }] }),
      'lines.0.quantity',
      /whole number from 1/,
    ],
    [
      'a quantity of 1e308',
      ({ donorId, partId }) => ({ donorId, lines: [{ partId, quantity: '1e308' }] }),
      'lines.0.quantity',
      /whole number from 1/,
    ],
    ['half a piece', ({ donorId, partId }) => ({ donorId, lines: [{ partId, quantity: 1.5 }] }), 'lines.0.quantity', /whole number from 1/],
    ['no quantity', ({ donorId, partId }) => ({ donorId, lines: [{ partId, quantity: '' }] }), 'lines.0.quantity', /Write how many/],
    [
      'too many',
      ({ donorId, partId }) => ({ donorId, lines: [{ partId, quantity: 1_000_001 }] }),
      'lines.0.quantity',
      /more than 1,000,000/,
    ],
    ['nothing named', ({ donorId }) => ({ donorId, lines: [{ quantity: 1 }] }), 'lines.0.words', /Say what it is/],
    [
      'a photograph that was never kept',
      ({ donorId, partId }) => ({ donorId, photoSha: 'a'.repeat(64), lines: [{ partId, quantity: 1 }] }),
      'photoSha',
      /Take it again/,
    ],
    [
      'a photograph that is none',
      ({ donorId, partId }) => ({ donorId, photoSha: 'x', lines: [{ partId, quantity: 1 }] }),
      'photoSha',
      /Take it again/,
    ],
  ]
  test.each(bad)('%s', async (_what, parcel, field, words) => {
    const donor = await makeDonor(stage)
    const part = await makePart(stage)
    const caller = await volunteer()
    const input = { key, ...parcel({ donorId: donor.id, partId: part.id }) } as Parameters<typeof caller.parcels.log>[0]
    const refused = await caller.parcels.log(input).then(
      () => null,
      (reason: unknown) => reason,
    )
    expect(fieldsOf(refused)).toEqual({ [field]: expect.stringMatching(words) })
    expect(await caller.parcels.list()).toEqual([])
    expect((await caller.donors.list()).donors).toHaveLength(1)
  })

  test('full-width digits are digits', async () => {
    const donor = await makeDonor(stage)
    const part = await makePart(stage)
    const kept = await (await volunteer()).parcels.log({ key, donorId: donor.id, lines: [{ partId: part.id, quantity: '１２' }] })
    expect(kept.lines[0]?.quantity).toBe(12)
  })

  test('more tagged pieces than a bag holds', async () => {
    const donor = await makeDonor(stage)
    const part = await makePart(stage, { kind: 'board', name: 'Main board' })
    const log = (quantity: number, again: string) =>
      volunteer().then((caller) => caller.parcels.log({ key: again, donorId: donor.id, lines: [{ partId: part.id, quantity }] }))
    await expect(log(201, 'key-of-201')).rejects.toThrow('log at most 200 in one batch')
    await expect(log(200, 'key-of-200')).resolves.toMatchObject({ lines: [{ quantity: 200 }] })
  })
})

/** Field and words of what was thrown, whether the service or the shape of the input refused. */
function fieldsOf(reason: unknown): Record<string, string> {
  const cause = (reason as { cause?: { fields?: Record<string, string>; issues?: { path: (string | number)[]; message: string }[] } }).cause
  if (cause?.fields) return cause.fields
  return Object.fromEntries((cause?.issues ?? []).map((issue) => [issue.path.join('.'), issue.message]))
}

describe('who may', () => {
  test('the treasurer, the host, a bidder and a visitor neither log nor read parcels', async () => {
    for (const caller of [await stage.as('treasurer'), await stage.as('host'), await stage.as('bidder'), stage.visitor()]) {
      await expect(caller.parcels.list()).rejects.toThrow()
      await expect(caller.parcels.log({ key, newDonor: { name: 'x' }, lines: [{ words: 'x', quantity: 1 }] })).rejects.toThrow()
    }
  })
})
