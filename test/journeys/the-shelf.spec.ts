import { pieceTag } from '#stock/shelf/piece.rules'
import { expect, expectAccessible, shoot, stepInto, test } from './journey'

test('a list is pasted and read, a label opens its piece, and a suspect batch is set aside with whom to tell', async ({
  watched: page,
  house,
}, info) => {
  test.setTimeout(150_000)
  await stepInto(page, house, 'Wilma Harrow')

  // A list as a spreadsheet gives it: its columns are seen and put right before anything is stored.
  await page.goto(`${house.url}/bench/designs`)
  await page.getByRole('link', { name: 'Tidemill LC-6' }).click()
  await page.getByRole('link', { name: 'Substitutes, a new list, and the list as CSV' }).click()
  const form = page.getByRole('form', { name: 'New parts list' })
  await form.getByLabel('or paste the rows with their heading').fill('Reference\tComment\tFootprint\nR1-R3\t4k8\taxial\nC1\t100n\tradial')
  await form.getByLabel('Rows that name no block belong to').selectOption('supply')
  await form.getByRole('button', { name: 'Show how it is read' }).click()
  await form.getByLabel('“Comment” is').selectOption('value')
  await expect(form.getByText('R1-R3 · 3 × 4.8 kΩ resistor, axial')).toBeVisible()
  await expect(form.getByText('4k8 is in no series up to E96; 4k7?')).toBeVisible()
  await expectAccessible(page)
  await shoot(page, 'parts-list-read', info.project.name)
  await form.getByLabel('Revision').fill('T1')
  await form.getByRole('button', { name: 'Store the parts list' }).click()
  await expect(page.getByRole('heading', { level: 1 })).toContainText('revision T1')

  // A slip in a tag is named; the right one opens the piece.
  await page.goto(`${house.url}/bench/scan`)
  await page.getByLabel('Or type the tag').fill(pieceTag(1).replace('0001', '0010'))
  await page.getByRole('button', { name: 'Open it' }).click()
  await expect(page.getByLabel('Or type the tag')).toHaveAccessibleDescription(new RegExp(`One slip away: .*${pieceTag(1).slice(0, 6)}`))
  await expectAccessible(page)
  await page.getByLabel('Or type the tag').fill(pieceTag(1))
  await page.getByRole('button', { name: 'Open it' }).click()
  await expect(page.getByRole('heading', { name: `Piece ${pieceTag(1)}` })).toBeAttached()
  await expectAccessible(page)
  await shoot(page, 'piece', info.project.name)

  await page.goto(`${house.url}/bench/parts/build`)
  await expect(page.getByRole('img', { name: /Where the pieces for each unit of Tidemill LC-6 stand/ })).toBeVisible()
  await expect(page.getByRole('heading', { name: 'The shortfall' })).toBeVisible()
  await expectAccessible(page)
  await shoot(page, 'what-can-be-built', info.project.name)

  // Found as one types, looked at beforehand, set aside in one action.
  await page.goto(`${house.url}/bench/parts`)
  await page.getByLabel('Find a batch').fill('amber abreu')
  await page
    .getByRole('table', { name: 'Batches that were found' })
    .getByRole('link', { name: /^B-\d+$/ })
    .first()
    .click()
  await page
    .getByRole('button', { name: /^Quarantine B-/ })
    .first()
    .click()
  const dialog = page.getByRole('dialog')
  await expect(dialog.getByText(/which holds 6: is set aside/)).toBeVisible()
  await expectAccessible(page)
  await dialog.getByLabel('What is suspected?').fill('the markings rub off')
  await dialog.getByRole('button', { name: 'Quarantine it' }).click()
  await page.getByText('To tell: Ines Abreu, who gave it').click()
  const letter = page.getByRole('form', { name: 'Letter to Ines Abreu' })
  await expect(letter.getByLabel('Letter to ines@abreu.example')).toHaveValue(/You could not have known this/)
  await expectAccessible(page)
  await shoot(page, 'whom-to-tell', info.project.name, false)
  await letter.getByRole('button', { name: 'Send the letter' }).click()
  await expect(page.getByText(/Ines Abreu, who gave it: told by letter/)).toBeVisible()
})

test('an address that leads to nothing says so, and one that was mistyped says what was meant', async ({ watched: page, house }) => {
  await stepInto(page, house, 'Wilma Harrow')
  for (const path of ['/bench/donors/nobody', '/bench/parts/nothing', `/bench/pieces/${pieceTag(7777)}`]) {
    expect((await page.goto(`${house.url}${path}`))?.status()).toBe(404)
    await expect(page.getByRole('heading', { name: 'Nothing hangs here' })).toBeVisible()
  }

  await page.goto(`${house.url}/bench/pieces/${pieceTag(1).replace('0001', '0010')}`)
  await expect(page.getByText(new RegExp(`One slip away: .*${pieceTag(1).slice(0, 6)}`))).toBeVisible()
  await expect(page.getByRole('heading', { name: 'This cannot be shown' })).toBeVisible()
  await expectAccessible(page)
})
