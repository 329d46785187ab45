import { Ajv2020 } from 'ajv/dist/2020.js'
import { expect, expectAccessible, shoot, stepInto, test, watch } from './journey'

test('a bidder without a meter has five answers in a minute, without script', async ({ browser, house, watched: page }, { project }) => {
  const plain = await browser.newContext({ javaScriptEnabled: false })
  const reader = await plain.newPage()
  await reader.goto(`${house.url}/units/TERN-02`)
  for (const question of [
    'Does it work?',
    'What was wrong with it?',
    'Who says so, and with what?',
    'Has it changed since?',
    'What could hurt me?',
  ]) {
    await expect(reader.getByText(question, { exact: true })).toBeVisible()
  }
  await expect(reader.getByRole('img', { name: /^Regulated rail: .*: pass\.$/ })).toBeVisible()
  await plain.close()
  await page.goto(`${house.url}/units/TERN-02`)
  await expectAccessible(page)
  await shoot(page, 'record', project.name)
})

test('a signed record is checked here, without a connection too, and a changed letter is found', async ({ house, context }, {
  project,
}) => {
  const { page, errors } = await watch(context)
  await page.goto(`${house.url}/units/TERN-02`)
  await page.getByRole('link', { name: 'Check the signature' }).click()
  await expect(page.getByText('This page is saved on your device')).toBeVisible()
  await page.getByRole('button', { name: 'Check it' }).click()
  await expect(page.getByText('It is this house’s, and whole.', { exact: true }).first()).toBeVisible()
  await expectAccessible(page)
  await shoot(page, 'check', project.name)
  const serial = await page.getByRole('textbox', { name: /A link or a serial/ }).inputValue()
  const signed = (await (await page.request.get(`${house.url}/certificates/${serial}.json`)).json()) as Record<string, string>
  const record = (await (await page.request.get(`${house.url}/units/TERN-02/record.json`)).json()) as { results: { upper: number }[] }
  const changed = { ...record, results: record.results.map((one, index) => (index === 5 ? { ...one, upper: 99 } : one)) }

  const history = (await (await page.request.get(`${house.url}/lots/1/history.json`)).json()) as object

  await context.setOffline(true)
  await page.goto(`${house.url}/check`)
  const file = (name: string, value: object) => ({ name, mimeType: 'application/json', buffer: Buffer.from(JSON.stringify(value)) })
  const files = page.getByLabel(/Files from this device/)
  await files.setInputFiles([file('signed.json', signed), file('record.json', changed)])
  await expect(page.getByText('It is this house’s, and whole.', { exact: true }).first()).toBeVisible()
  await expect(page.getByText(/First at: Reading .*the upper limit: signed as .*, the record says 99/)).toBeVisible()
  await files.setInputFiles([file('forged.json', { ...signed, payload: `eyI${signed.payload?.slice(3)}` })])
  await expect(page.getByText(/^It was changed: /).first()).toBeVisible()
  await files.setInputFiles([file('lot-1.json', history)])
  await expect(page.getByText(/^The winner is /)).toBeVisible()
  await expect(page.getByRole('img', { name: /bids, from .* won\./ })).toBeVisible()
  await shoot(page, 'check-history', project.name)
  await context.setOffline(false)
  expect(errors).toEqual([])
})

test('every record of the day is what its published schema says', async ({ house, watched: page }) => {
  const get = async (path: string) => (await page.request.get(`${house.url}${path}`)).json()
  const { lots } = (await get('/lots.json')) as { lots: { unit: string }[] }
  // Units of every state: sold, listed, certified, with an open fault, and at the beginning of their checks.
  const tags = new Set([...lots.map(({ unit }) => unit), 'TERN-03', 'TERN-04', 'LARK-03', 'PIPIT-05', 'WREN-02'])
  const schemas = new Map<string, ReturnType<Ajv2020['compile']>>()
  for (const tag of tags) {
    const record = (await get(`/units/${tag}/record.json`)) as { $schema: string }
    const check =
      schemas.get(record.$schema) ??
      new Ajv2020({ strict: true, validateFormats: false, allErrors: true }).compile((await get(record.$schema)) as object)
    schemas.set(record.$schema, check)
    expect(check(record) ? [] : check.errors, tag).toEqual([])
  }
  expect(schemas.size).toBe(1)
})

test('the buyer measures at home, compares, and shares it with the maker', async ({ house, watched: page }, { project }) => {
  await stepInto(page, house, 'Wilma Harrow')
  await page.goto(`${house.url}/bench/units/TERN-02/certificate`)
  const code = (await page.locator('#at-home ~ p b').first().textContent()) ?? ''
  await page.goto(`${house.url}/units/TERN-02/home?box=${code}`)
  const first = page.getByRole('textbox', { name: /What does your meter show/ }).first()
  await first.fill('1')
  await expect(page.getByText(/Write every digit your meter shows/)).toBeVisible()
  await first.fill('1.96')
  await expect(page.getByText(/1 of 5 compared/)).toBeVisible()
  await expect(page.getByText(/red probe on the loop of wire/i).first()).toBeVisible()
  await page
    .getByRole('textbox', { name: /Is it as described above/ })
    .first()
    .fill('yes')
  await expect(page.getByText('As the maker describes it.')).toBeVisible()
  await expectAccessible(page)
  await shoot(page, 'home', project.name)
  await page.reload()
  await expect(first).toHaveValue('1.96')
  await page.getByRole('button', { name: 'Share my readings' }).click()
  await expect(page.getByText('The maker has them')).toBeVisible()
  await page.goto(`${house.url}/bench/units/TERN-02/certificate`)
  await expect(page.getByRole('heading', { name: /Measured at home/ })).toBeVisible()
})
