import { parse } from 'csv-parse/sync'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { makeCampaign } from '#test/make/campaign'
import { makeDonor, makePart } from '#test/make/shelf'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

const read = (text: string): Record<string, string>[] => parse(text, { bom: true, columns: true })

test('donors, gifts and parcels are saved whole, and a name that is a formula is not one any more', async () => {
  await makeCampaign(stage)
  const donor = await makeDonor(stage, '=HYPERLINK("http://x.example","you won")', { contact: '' })
  const part = await makePart(stage)
  const volunteer = await stage.as('volunteer')
  await volunteer.gifts.add({ donorId: donor.id, kind: 'money', words: 'in the tin', amountMinor: 2550 })
  await volunteer.parcels.log({ key: 'one-parcel-key', donorId: donor.id, lines: [{ partId: part.id, quantity: 20 }], note: '+1; =2' })

  const donors = await volunteer.parcels.export({ what: 'donors' })
  expect(donors).toMatchObject({ fileName: 'donors-2027-03-13.csv', type: expect.stringContaining('text/csv') })
  expect(read(donors.text)).toMatchObject([{ name: `'=HYPERLINK("http://x.example","you won")`, page: 'yes' }])
  const gifts = read((await volunteer.parcels.export({ what: 'gifts' })).text)
  expect(gifts.map(({ what, quantity, amount, currency }) => [what, quantity, amount, currency])).toEqual([
    ['Display, 14 mm', '20', '', ''],
    ['in the tin', '0', '25.50', 'GBP'],
  ])
  expect(read((await volunteer.parcels.export({ what: 'parcels' })).text)).toMatchObject([
    { quantity: '20', batch: 'B-0001', note: "'+1; '=2" },
  ])
})
