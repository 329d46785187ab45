import { buffer } from 'node:stream/consumers'
import { ZipFile } from 'yazl'
import { expect, expectAccessible, shoot, stepInto, test } from './journey'

// What a maker has in three spreadsheets comes into the house. The steps build on each other.
test.describe.configure({ mode: 'serial' })

const DONORS = [
  'Who,E-mail,What they gave,How many,Date,May be named,Credit',
  'Ines Abreu,ines@abreu.example,20 displays,,03/04/2026,yes,',
  'Gregor Falk,gregor@falk.example,crystals,ca. 40,05/06/2026,yes,',
  'Gregor Falk,gregor@falk.example,a case,1,07/06/2026,yes,',
  'Linnea Dahl,linnea at dahl,transformers,2,08/06/2026,no,anonymous',
].join('\n')

test('1. a sheet of donors: left half way, found again, what is in doubt answered, a cell mended, stored', async ({
  another,
  house,
}, info) => {
  const page = await another()
  await stepInto(page, house, 'Wilma Harrow')
  await page.goto(`${house.url}/bench/donors`)
  await page.getByRole('link', { name: 'Bring donors from a spreadsheet' }).click()
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('Donors and what they gave')
  await expectAccessible(page)
  await page.getByRole('button', { name: 'Show how it is read' }).click()
  await expect(page.getByRole('alert').or(page.getByText('Choose a file, or paste the rows with their heading.')).first()).toBeVisible()
  await page.getByLabel('or paste the rows with their heading').fill(DONORS)
  await page.getByRole('button', { name: 'Show how it is read' }).click()

  await expect(page.getByRole('heading', { name: 'What is in doubt' })).toBeVisible()
  await expect(page.getByText('“May be named” is not taken: nobody is named until they have been asked here.')).toBeVisible()
  await expectAccessible(page)
  await shoot(page, 'sheet-asked', info.project.name)
  await page.getByLabel('The day stands first: 2026-04-03').check()
  await expect(page.getByText('came on 2026-04-03')).toBeVisible()

  // Walked away from, and found again with what was answered.
  await page.goto(`${house.url}/bench/sheets`)
  await expectAccessible(page)
  await shoot(page, 'sheets', info.project.name)
  await page.getByRole('link', { name: 'Donors and what they gave: pasted rows' }).click()
  await expect(page.getByLabel('The day stands first: 2026-04-03')).toBeChecked()

  await page
    .getByRole('group', { name: /“Gregor Falk” stands in lines 3 and 4/ })
    .getByLabel('One donor')
    .check()
  await page
    .getByRole('group', { name: /Is it the same person/ })
    .getByLabel(/^The same: Ines Abreu/)
    .check()
  await page
    .getByRole('group', { name: /Have those been thanked/ })
    .getByLabel('No, not yet')
    .check()
  await page.getByLabel('Yes, that many').check()
  await expect(page.getByText('All answered')).toBeVisible()

  await page.getByRole('region', { name: 'Line 5' }).getByLabel('mail').fill('linnea@dahl.example')
  // What was typed and not read yet survives a reload.
  await page.reload()
  await expect(page.getByRole('region', { name: 'Line 5' }).getByLabel('mail')).toHaveValue('linnea@dahl.example')
  await page.getByRole('button', { name: 'Read again with what is mended' }).click()
  await expect(page.getByText('In the file: linnea at dahl')).toBeVisible()
  await expect(page.getByText('2 new donors, named nowhere until they have been asked')).toBeVisible()
  await expectAccessible(page)
  await shoot(page, 'sheet-to-store', info.project.name)
  await page.getByRole('button', { name: 'Store all of it' }).click()
  await expect(page.getByText('All of it is stored')).toBeVisible()
  await expectAccessible(page)
  await shoot(page, 'sheet-stored', info.project.name)

  await page.getByRole('link', { name: 'Donors', exact: true }).last().click()
  await page.getByRole('link', { name: 'Gregor Falk' }).first().click()
  await expect(page.getByRole('heading', { level: 1 })).toContainText('Gregor Falk')
  for (const use of await page.getByRole('checkbox').all()) await expect(use).not.toBeChecked()
})

test('2. a file of parts in another encoding: read as they are written, put on the shelf', async ({ another, house }, info) => {
  const page = await another()
  await stepInto(page, house, 'Wilma Harrow')
  await page.goto(`${house.url}/bench/parts`)
  await page.getByRole('link', { name: 'Bring parts on the shelf from a spreadsheet' }).click()
  const file = [
    'Bauteil;Menge;Fach;Lieferant',
    '4k7 1/4W;ca. 100;Kästchen 9;',
    '0,1uF;250;Kästchen 10;Bauteil-Müller',
    'Knöpfe;not counted yet;;',
  ].join('\r\n')
  await page.getByLabel('File').setInputFiles({ name: 'regal.csv', mimeType: 'text/csv', buffer: Buffer.from(file, 'latin1') })
  await page.getByRole('button', { name: 'Show how it is read' }).click()
  await expect(page.getByText('100 nF capacitor')).toBeVisible()
  await page.getByLabel('From my own shelf').check()
  await page.getByLabel('Keep them so').check()
  await expect(page.getByRole('heading', { name: 'What will be stored' })).toBeVisible()
  await expectAccessible(page)
  await shoot(page, 'sheet-of-parts', info.project.name)
  await page.getByRole('button', { name: 'Store all of it' }).click()
  await expect(page.getByText('All of it is stored')).toBeVisible()
  await page.goto(`${house.url}/bench/parts`)
  await page.getByLabel('Find a batch').fill('Kästchen 9')
  await page.goto(`${house.url}/bench/sheets`)
  await expect(page.getByText('3 batches on the shelf')).toBeVisible()
})

test('3. a workbook of machines that were built before: on a page of their own', async ({ another, house }, info) => {
  const page = await another()
  await stepInto(page, house, 'Wilma Harrow')
  await page.goto(`${house.url}/bench/designs`)
  await page.getByRole('link', { name: 'Machines built before this house' }).click()
  await expect(page.getByText('No earlier machine is noted.')).toBeVisible()
  await expectAccessible(page)
  await page.getByRole('link', { name: 'Bring a sheet of them' }).click()
  await page.getByLabel('File').setInputFiles({ name: 'machines.xlsx', mimeType: 'application/octet-stream', buffer: await workbook() })
  await page.getByRole('button', { name: 'Show how it is read' }).click()
  await expect(page.getByText('“Buyer” is not stored: to whom a machine went is nobody else’s business.')).toBeVisible()
  await page.getByLabel('Yes, all of them were sold').check()
  await page
    .getByRole('group', { name: /In which currency/ })
    .getByLabel('GBP')
    .check()
  await expectAccessible(page)
  await page.getByRole('button', { name: 'Store all of it' }).click()
  await expect(page.getByText('All of it is stored')).toBeVisible()
  await page.getByRole('link', { name: 'Earlier machines' }).click()
  await expect(page.getByRole('cell', { name: '£180.00 by 1' })).toBeVisible()
  await expect(page.getByText('Somebody')).toHaveCount(0)
  await expectAccessible(page)
  await shoot(page, 'earlier-machines', info.project.name)
  await page.getByRole('button', { name: /^Remove… ?Ferry clock FC-2/ }).click()
  await page.getByRole('button', { name: 'Remove it' }).click()
  await expect(page.getByRole('row', { name: /FC-2/ })).toHaveCount(0)
})

/** As a spreadsheet program writes one, with a day and a formula. */
async function workbook(): Promise<Buffer> {
  const text = (cell: string, said: string) => `<c r="${cell}" t="inlineStr"><is><t>${said}</t></is></c>`
  const head = ['Machine', 'No', 'Built', 'Hours', 'Sold for', 'Buyer'].map((said, at) => text(`${'ABCDEF'[at]}1`, said)).join('')
  const files = {
    'xl/workbook.xml': '<workbook xmlns:r="r"><sheets><sheet name="Machines" r:id="rId1"/></sheets></workbook>',
    'xl/_rels/workbook.xml.rels': '<Relationships><Relationship Id="rId1" Target="worksheets/sheet1.xml"/></Relationships>',
    'xl/styles.xml': '<styleSheet><cellXfs><xf numFmtId="0"/><xf numFmtId="14"/></cellXfs></styleSheet>',
    'xl/worksheets/sheet1.xml': `<worksheet><sheetData><row r="1">${head}</row>
      <row r="2">${text('A2', 'Ferry clock')}${text('B2', 'FC-1')}<c r="C2" s="1"><v>45000</v></c><c r="D2"><f>6*2</f><v>12</v></c><c r="E2"><v>180</v></c>${text('F2', 'Somebody')}</row>
      <row r="3">${text('A3', 'Ferry clock')}${text('B3', 'FC-2')}<c r="C3"><v>2022</v></c></row></sheetData></worksheet>`,
  }
  const zip = new ZipFile()
  for (const [name, content] of Object.entries(files)) zip.addBuffer(Buffer.from(content), name)
  zip.end()
  return buffer(zip.outputStream)
}
