import { expect, expectAccessible, shoot, stepInto, test } from './journey'

const TAG = 'PIPIT-02'

test('a fault is searched with the help of the ranking, found, mended and closed, and the run shows it', async ({
  watched: page,
  house,
}, info) => {
  test.setTimeout(150_000)
  await stepInto(page, house, 'Wilma Harrow')
  await page.goto(`${house.url}/bench/units/${TAG}`)
  await expect(page.getByText('A fault is open: F19 Counts its own 10 MHz: 9999871 Hz')).toBeVisible()
  await page.getByRole('link', { name: 'Where to look next' }).click()
  await expect(page.getByRole('heading', { name: /^Where to look next/ })).toBeVisible()

  // The machine is taken up by its tag here as well, and the check that tells most is at hand.
  await page.getByLabel('Tag on the machine').fill(TAG)
  await page.getByRole('button', { name: 'Start work' }).click()
  await expect(page.getByRole('img', { name: /^What feeds what, each block as dark as it is suspected/ })).toBeVisible()
  await expectAccessible(page)
  await shoot(page, 'where-to-look-next', info.project.name)
  const reading = page.getByRole('form', { name: 'Reading of F23' })
  await expect(page.getByText(/the reading is marked taken while searching/)).toBeVisible()
  await reading.getByLabel('On the meter').fill('a lot')
  await reading.getByLabel('On the meter').press('Enter')
  await expect(reading.getByRole('alert')).toBeVisible()
  await reading.getByLabel('On the meter').fill('1040')
  await reading.getByLabel('On the meter').press('Enter')
  const suspects = page.getByRole('region', { name: 'Suspects' })
  await expect(suspects.getByRole('row', { name: /^input filter/ })).toContainText('more likely than not')
  await expect(page.getByRole('region', { name: 'What was seen' })).toContainText('taken while searching')

  // It cannot be closed while the check still fails: first the cure.
  await page.getByRole('heading', { name: 'Found it: close the fault' }).click()
  const close = page.getByRole('form', { name: 'Close the fault' })
  await close.getByLabel('What was changed').fill('A bridge beside C10 taken away')
  await close.getByLabel('Minutes it took').fill('an hour')
  await close.getByRole('button', { name: 'Close the fault' }).click()
  await expect(close.getByLabel('Minutes it took')).toHaveAccessibleDescription(/as a whole number such as 45/)
  await close.getByLabel('Minutes it took').fill('35')
  await close.getByLabel('Which block it was in').selectOption('input filter')
  await close.getByRole('button', { name: 'Close the fault' }).click()
  await expect(close.getByText(/^F19 still fails\. Enter the change as a rework/).first()).toBeVisible()

  await page.getByRole('heading', { name: 'Enter a rework' }).click()
  const rework = page.getByRole('form', { name: 'Rework' })
  await rework.getByLabel('What was wrong').fill('A bridge of solder beside C10')
  await rework.getByLabel('What was changed to mend it').fill('The bridge taken away')
  await rework.getByLabel('Positions').fill('C10')
  await rework.getByRole('button', { name: 'Show what it undoes' }).click()
  await expect(rework.getByRole('status').filter({ hasText: 'F19' })).toBeVisible()
  await rework.getByRole('button', { name: 'Enter the rework' }).click()

  // The form opens with what was typed into it before, which what the rework said does not replace.
  await expect(close.getByLabel('What was changed')).toHaveValue('A bridge beside C10 taken away')
  await close.getByText('A joint, a bridge or a wire').click()
  await close.getByLabel('Minutes it took').fill('35')
  await close.getByRole('button', { name: 'Close the fault' }).click()
  await expect(page.getByText(`No fault of ${TAG} is open.`)).toBeVisible()
  await expect(page.getByRole('region', { name: 'Faults that were found' })).toContainText('in input filter at C10')
  await expectAccessible(page)

  await page.goto(`${house.url}/bench/runs/PIPIT`)
  await expect(page.getByRole('table', { name: /^Faults that were found, 35 minutes/ })).toContainText('A bridge beside C10 taken away')
  await expect(page.getByRole('region', { name: /^Failed more than once/ })).toContainText('F8 has failed on PIPIT-03 and PIPIT-05')
  await expect(page.getByRole('region', { name: /^Failed more than once/ })).toContainText('1 in 10')
  await expect(page.getByRole('region', { name: 'Which ones differ' })).toContainText('It passes all the same.')
  const row = page.getByRole('row', { name: /^F19/ })
  await expect(row).toContainText('lost, to be taken again, failed once')
  await expectAccessible(page)
  await shoot(page, 'run-at-a-glance', info.project.name)

  await page.goto(`${house.url}/bench`)
  await expect(page.getByText('F8 failed: Ripple on 3.3 V, as on PIPIT-05: something common?')).toBeVisible()
})
