import sharp from 'sharp'
import { expect, expectAccessible, shoot, stepInto, test } from './journey'

const TAG = 'PIPIT-02'

test('hours are seen and put right, and parts are pinned on a photograph of the board by a press and by the keyboard', async ({
  watched: page,
  house,
}, info) => {
  await stepInto(page, house, 'Wilma Harrow')
  await page.goto(`${house.url}/bench/hours`)
  await expect(page.getByRole('heading', { name: 'Parts at replacement price' })).toBeVisible()
  await expectAccessible(page)
  await shoot(page, 'hours-and-parts', info.project.name)
  await page.goto(`${house.url}/bench/units/${TAG}/hours`)
  await expect(page.getByRole('heading', { name: /min at the bench$/ })).toBeVisible()
  await page.getByText('Put the hours right').click()
  const hours = page.getByRole('form', { name: `Hours of ${TAG}` })
  await hours.getByLabel('How long?').fill('long')
  await hours.getByLabel('Why?').fill('soldered without a note')
  await hours.getByRole('button', { name: 'Put it right' }).click()
  await expect(hours.getByLabel('How long?')).toHaveAccessibleDescription(/Write hours and minutes/)
  await hours.getByLabel('How long?').fill('1:30')
  await hours.getByRole('button', { name: 'Put it right' }).click()
  await expect(page.getByText(/^1 h 30 min added by Wilma Harrow/)).toBeVisible()
  await expectAccessible(page)

  await page.goto(`${house.url}/bench/units/${TAG}/fault`)
  await page.getByRole('link', { name: /on a photograph of the board$/ }).click()
  const photograph = page.getByRole('form', { name: 'A photograph of the board' })
  const buffer = await sharp({ create: { width: 900, height: 600, channels: 3, background: '#1d5a49' } })
    .jpeg()
    .toBuffer()
  await photograph.getByLabel('Choose a picture').setInputFiles({ name: 'board.jpg', mimeType: 'image/jpeg', buffer })
  await expect(photograph.getByText('The photograph is kept.')).toBeVisible()
  await photograph.getByRole('button', { name: 'Add it' }).click()
  const mark = page.getByLabel('What do you pin?')
  await mark.selectOption('C10')
  await page.getByRole('button', { name: 'Pin C10 here' }).click({ position: { x: 30, y: 30 } })
  await expect(page.getByText('C10 is pinned upper left.')).toBeVisible()
  await mark.selectOption('C11')
  await page.getByRole('button', { name: 'Pin C11 here' }).press('Shift+ArrowRight')
  await page.getByRole('button', { name: 'Pin C11 here' }).press('Enter')
  await expect(page.getByText(/^C11 is pinned/)).toBeVisible()
  await expectAccessible(page)
  await page.goto(`${house.url}/bench/units/${TAG}/fault`)
  await expect(page.getByRole('img', { name: /^Photograph of the board\. C10 upper left; C11/ })).toBeVisible()
})
