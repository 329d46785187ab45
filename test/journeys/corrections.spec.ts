import sharp from 'sharp'
import { atHand, enter, untilNext } from './bench-hand'
import { expect, expectAccessible, shoot, stepInto, test } from './journey'

const TAG = 'TERN-03'

test('a mistyped reading and a mistyped fitting are put right on the unit’s page; a reading takes its note and photograph', async ({
  watched: page,
  house,
}, info) => {
  test.setTimeout(150_000)
  await stepInto(page, house, 'Wilma Harrow')
  await page.goto(`${house.url}/bench/units/${TAG}`)
  await page.getByLabel('Tag on the machine').fill(TAG)
  await page.getByRole('button', { name: 'Start work' }).click()
  await expect(page.getByRole('form', { name: /^Reading of/ })).toBeVisible()

  const rails = page.locator('summary', { hasText: /^rails/i })
  await rails.click()
  await page.getByRole('button', { name: 'Correct the reading of B6' }).click()
  const correction = page.getByRole('form', { name: 'Correction of B6' })
  await expect(correction.getByLabel('On the meter')).toBeFocused()
  await expect(correction).toBeInViewport()
  await correction.getByLabel('On the meter').fill('8.03')
  await correction.getByRole('button', { name: 'Correct the reading' }).click()
  await expect(correction.getByLabel('Why you are correcting it')).toHaveAccessibleDescription(/Say why you are correcting the reading/)
  await expectAccessible(page)
  await shoot(page, 'correction', info.project.name, false)
  await correction.getByLabel('Why you are correcting it').fill('misread the last digit')
  await correction.getByRole('button', { name: 'Correct the reading' }).click()
  await expect(page.getByText('B6: 8.03 V, pass (a correction: misread the last digit)')).toBeVisible()
  await expect(page.getByText(/B6: 8\.00 V, pass; no longer current, corrected: misread the last digit/)).toBeVisible()
  await expect(correction).toHaveCount(0)

  // A hold point is released anew: the name stood for the figure that was there before.
  await page.getByRole('button', { name: 'Release it' }).click()
  await expect(page.getByRole('form', { name: /^Reading of/ })).toBeVisible()
  const now = await atHand(page)
  if (now?.does !== 'read') throw new Error('nothing is to be read')
  const form = page.getByRole('form', { name: `Reading of ${now.check}` })
  await form.getByText('Note, departure, ambient, photograph').click()
  await form.getByLabel('Note').fill('Measured with the lid on.')
  await form.getByLabel('Ambient').fill('21 °C')
  const picture = await sharp({ create: { width: 640, height: 480, channels: 3, background: '#b98d5b' } })
    .jpeg()
    .toBuffer()
  await form.getByLabel('Choose a picture').setInputFiles({ name: 'meter.jpg', mimeType: 'image/jpeg', buffer: picture })
  await expect(form.getByText('Kept on this phone until it is sent.')).toBeVisible()
  await expectAccessible(page)
  await shoot(page, 'beside-reading', info.project.name, false)
  const sent = page.waitForRequest(/bringup\.takeReading$/)
  const added = page.waitForRequest(/bringup\.addEvidence$/)
  await enter(page, now.check, '60')
  expect((await sent).postDataJSON()).toMatchObject({
    note: 'Measured with the lid on.',
    ambient: '21 °C',
  })
  // The photograph follows its reading as soon as the house has that.
  expect((await added).postDataJSON()).toMatchObject({ kind: 'picture', sha: expect.stringMatching(/^[0-9a-f]{64}$/) })
  await untilNext(page, now)
  await expect(page.getByLabel(/^Note/)).toHaveValue('')

  // A second bag of what sits at R1 is in hand, and that is where it came from.
  const input = encodeURIComponent(JSON.stringify({ tag: TAG }))
  const unit = await (await page.request.get(`${house.url}/api/trpc/bringup.unit?input=${input}`)).json()
  const { partId } = unit.result.data.positions.find(({ designator }: { designator: string }) => designator === 'R1')
  const headers = { origin: house.url }
  const bought = { partId, boughtFrom: 'Parts by the Quay', quantity: 20 }
  expect((await page.request.post(`${house.url}/api/trpc/shelf.buy`, { data: bought, headers })).ok()).toBe(true)

  // What was begun is there again after a reload: text, choices, ticks, and what a choice opens.
  const rework = page.getByRole('form', { name: 'Rework', exact: true })
  await page.getByRole('heading', { name: 'Enter a rework' }).click()
  await rework.getByLabel('What was wrong').fill('a cold joint')
  await rework.getByLabel('Positions').fill('R1')
  await rework.getByLabel('It was swapped for another').check()
  await rework.getByLabel('What came out is bad').uncheck()
  await rework.getByLabel('Any other block').selectOption({ index: 1 })
  const block = await rework.getByLabel('Any other block').inputValue()
  const at = await atHand(page)
  await page.getByText('Note, departure, ambient, photograph').click()
  await page.getByLabel('Departure from the method').fill('The lid was on.')
  await page.reload()
  await expect(rework.getByLabel('What was wrong')).toHaveValue('a cold joint')
  await expect(rework.getByLabel('Positions')).toHaveValue('R1')
  await expect(rework.getByLabel('It was swapped for another')).toBeChecked()
  await expect(rework.getByLabel('What came out is bad')).not.toBeChecked()
  await expect(rework.getByLabel('Any other block')).toHaveValue(block)
  expect((await atHand(page))?.check).toBe(at?.check)
  await expect(page.getByLabel('Departure from the method')).toHaveValue('The lid was on.')
  await expect(page.getByLabel('Departure from the method')).toBeVisible()

  await page.getByRole('heading', { name: 'Correct a mistyped fitting' }).click()
  const fitting = page.getByRole('form', { name: 'Correction of a fitting' })
  await fitting.getByLabel('Position').selectOption('R1')
  const record = fitting.getByText(/^The record says B-\d{4}\.$/)
  const before = (await record.textContent()) ?? ''
  await expectAccessible(page)
  await shoot(page, 'fitting-correction', info.project.name, false)
  await fitting.getByRole('button', { name: 'Correct the fitting' }).click()
  await expect(fitting.getByLabel('What was mistyped')).toHaveAccessibleDescription(/Say what was mistyped/)
  await fitting.getByLabel('What was mistyped').fill('read the wrong bag')
  await fitting.getByRole('button', { name: 'Correct the fitting' }).click()
  await expect(page.getByText('R1: mistyped: read the wrong bag')).toBeVisible()
  await fitting.getByLabel('Position').selectOption('R1')
  await expect(record).not.toHaveText(before)
})
