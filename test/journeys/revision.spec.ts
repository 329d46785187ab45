import { atHand } from './bench-hand'
import { expect, expectAccessible, shoot, stepInto, test, watch } from './journey'

const TAG = 'LARK-03'

test('two people at one unit: what one has half typed stays when the other’s reading arrives', async ({
  browser,
  watched: maker,
  house,
}, info) => {
  test.setTimeout(120_000)
  const context = await browser.newContext({ ...(info.project.use as object) })
  const { page: other, errors } = await watch(context)
  for (const [page, name] of [
    [maker, 'Wilma Harrow'],
    [other, 'Tobi Lark'],
  ] as const) {
    await stepInto(page, house, name)
    await page.goto(`${house.url}/bench/units/${TAG}`)
    await page.getByLabel('Tag on the machine').fill(TAG)
    await page.getByRole('button', { name: 'Start work' }).click()
    expect(await atHand(page)).toEqual({ check: 'C12', does: 'read' })
  }
  const box = maker.getByRole('form', { name: 'Reading of C12' }).getByLabel('On the meter')
  await expect(box).toBeFocused()
  await box.fill('1.')

  const theirs = other.getByRole('form', { name: 'Reading of C12' }).getByLabel('On the meter')
  await theirs.fill('2.5')
  await theirs.press('Enter')
  await expect(other.getByRole('form', { name: 'Reading of C12' })).toHaveCount(0)
  // Where the next one is written has the focus by itself: a figure, or the file that was read back.
  await expect(other.locator('form[aria-label^="Reading of"]:focus-within')).toHaveCount(1)

  await expect(maker.getByText(/Tobi Lark has read 2\.5 mV for C12 meanwhile/)).toBeVisible()
  await expect(box).toHaveValue('1.')
  await expectAccessible(maker)
  await shoot(maker, 'two-at-one-unit', info.project.name, false)
  await box.fill('1.8')
  await box.press('Enter')
  await expect(maker.getByRole('form', { name: 'Reading of C12' })).toHaveCount(0)
  await expect(other.getByText('C12: 1.8 mV, pass')).toBeVisible()
  await expect(other.getByText(/C12: 2\.5 mV, pass; no longer current, taken again/)).toBeVisible()

  await maker.getByRole('button', { name: 'Table' }).click()
  await expect(maker.getByRole('table', { name: `Readings of ${TAG} that are current` }).getByText('1.8 mV')).toBeVisible()
  await expectAccessible(maker)
  await context.close()
  expect(errors).toEqual([])
})

test('the next revision is written in the editor, and a unit in progress is told what it means before it is moved', async ({
  watched: page,
  house,
}, info) => {
  test.setTimeout(120_000)
  await stepInto(page, house, 'Wilma Harrow')
  await page.goto(`${house.url}/bench/designs`)
  await page.getByRole('link', { name: 'Copperbeech V1' }).click()
  const saved = page.waitForEvent('download')
  await page.getByRole('button', { name: 'Save the checklist as CSV' }).click()
  const file = await (await saved).path()
  await page.getByRole('link', { name: 'Write the next revision' }).click()

  await page.getByRole('button', { name: /^C7 / }).click()
  await page.getByLabel('Lower limit').fill('-2 %')
  await page.getByLabel('Upper limit').fill('2 %')
  await expect(page.getByLabel('Upper limit')).toHaveAccessibleDescription(/Write how far it is off the nominal/)
  await page.getByLabel('Upper limit').fill('+2 %')
  await page.getByLabel('Checks it needs first').fill('C10')
  await expect(page.getByLabel('Checks it needs first')).toHaveAccessibleDescription(
    /C7 needs C10 needs C7: none of these could ever be taken/,
  )
  await expectAccessible(page)
  await shoot(page, 'editor', info.project.name)
  await page.getByLabel('Checks it needs first').fill('C6')
  await page.reload()
  await expect(page.getByText('Your unfinished revision is back')).toBeVisible()
  await page.getByRole('button', { name: /^C7 / }).click()
  await expect(page.getByLabel('Lower limit')).toHaveValue('-2 %')

  const form = page.getByRole('form', { name: 'Next revision' })
  await form.getByRole('button', { name: 'Store the revision' }).click()
  await expect(form.getByLabel('Revision')).toHaveAccessibleDescription(/Write the revision/)
  await form.getByLabel('Revision').fill('Z')
  await form.getByRole('button', { name: 'Store the revision' }).click()
  await expect(page.getByRole('heading', { name: 'Copperbeech V1 revision Z' })).toBeVisible()

  const unit = page.locator('summary', { hasText: TAG })
  await expect(unit).toContainText('1 to be taken again')
  await unit.click()
  const move = page.getByRole('form', { name: `Move ${TAG}` })
  await expect(move.getByText(/\+12 V rail: its limits were 11\.7 to 12\.3 V and are 11\.76 to 12\.24 V/)).toBeVisible()
  await expectAccessible(page)
  await shoot(page, 'revision-means', info.project.name, false)
  await move.getByRole('button', { name: `Move ${TAG} to revision Z` }).click()
  await expect(page.locator('summary', { hasText: TAG })).toHaveCount(0)

  await page.goto(`${house.url}/bench/units/${TAG}`)
  await expect(page.getByText('revision Z', { exact: false }).first()).toBeVisible()
  await expect(page.getByText(/Lost: Revision Z: its limits were/)).toBeVisible()

  // The list that was saved comes in again, in place of what stands there, and nothing is wrong with it.
  await page.goto(`${house.url}/bench/designs`)
  await page.getByRole('link', { name: 'Copperbeech V1' }).last().click()
  await page.getByRole('link', { name: 'Write the next revision' }).click()
  const checks = page.getByRole('region', { name: 'Checklist' })
  await checks.getByText('Read the rows from a CSV file').click()
  await checks.getByLabel('File').setInputFiles(file)
  await checks.getByRole('button', { name: 'Use these rows' }).click()
  await expect(checks.getByRole('button', { name: /^C7 .*11\.7 to 12\.3/ })).toBeVisible()
  await expect(page.getByText(/checks over \d+ blocks, and nothing is wrong/)).toBeVisible()
})
