import sharp from 'sharp'
import { expect, test } from 'vitest'
import { publicRecord } from '#bench/certificates/public-record.rules'
import { pictureOf } from '#floor/record/picture.rules'
import { setPicture } from '#paper/picture'
import { aUnit } from '#test/make/unit-facts'

const campaign = { name: 'Long Bench Day', causeName: 'Ferry Lane Repair School' }
const view = (unit = aUnit()) =>
  ({ record: publicRecord(unit, true), standing: { serial: 'TS-2027-0147-M', issuedAt: 0 } }) as Parameters<typeof pictureOf>[0]

test('the picture for links is 1200 by 630, a PNG, and the same bytes for the same record', async () => {
  const picture = await setPicture(pictureOf(view(), campaign))
  expect(await sharp(picture).metadata()).toMatchObject({ format: 'png', width: 1200, height: 630 })
  expect(picture.equals(await setPicture(pictureOf(view(), campaign)))).toBe(true)
})

test('it shows what passed within doubt before what simply passed, in the order of the checklist', () => {
  const { gauges } = pictureOf(view(), campaign)
  expect(gauges).toHaveLength(4)
  expect(gauges.some(({ verdict }) => verdict === 'pass within doubt')).toBe(true)
})

test('words too long for it are cut, and draw without a fault', async () => {
  const order = { ...pictureOf(view(), campaign), title: 'A receiver with a very long name '.repeat(8), sentence: 'word '.repeat(200) }
  expect((await sharp(await setPicture(order)).metadata()).width).toBe(1200)
})
