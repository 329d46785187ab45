import { DAY, HOUR } from '#kernel/instant'
import { expect, expectAccessible, shoot, stepInto, test } from './journey'

const MAKER = 'Wilma Harrow'

test('the next campaign begins in the same house, and the one before answers where it was printed', async ({
  watched: page,
  house,
}, info) => {
  test.setTimeout(240_000)
  await stepInto(page, house, MAKER)
  await house.pass(20 * HOUR)
  await page.goto(`${house.url}/bench/lots/4`)
  const result = page.getByRole('form', { name: 'Result' })
  if ((await result.count()) > 0) {
    await result.getByLabel('Sold for').fill('96')
    await result.getByLabel('Where the result comes from').fill('The other house, by letter')
    await result.getByRole('button', { name: 'Enter the result' }).click()
    await expect(result).toHaveCount(0)
  }
  const raised = await (await page.request.get(`${house.url}/proceeds.json`)).json()
  await page.goto(`${house.url}/bench/close-out/next`)
  await expect(page.getByRole('heading', { name: 'What goes along' })).toBeVisible()
  await expect(page.getByText('Lot 7 can still be had at a fixed price.')).toBeVisible()
  await page.goto(`${house.url}/bench/lots/7`)
  await page.getByRole('button', { name: 'Take it back' }).click()
  await expect(page.getByRole('button', { name: 'Take it back' })).toHaveCount(0)
  await page.goto(`${house.url}/bench/close-out/next`)
  await expect(page.getByRole('heading', { name: 'What goes along' })).toBeVisible()
  await expect(page.getByText('It cannot begin yet')).toHaveCount(0)
  await expectAccessible(page)
  await shoot(page, 'next-campaign', info.project.name)

  const slug = await page.getByLabel(/is called in addresses from now on/).inputValue()
  await page.getByLabel('Name of the campaign').fill('Second Lights')
  await page.getByLabel('Who benefits').fill('The Night Ferry Fund')
  const day = new Date((await house.now()) + 300 * DAY).toISOString().slice(0, 10)
  await page.getByLabel('It begins, in that zone').fill(`${day}T13:00`)
  await page.getByLabel('It ends').fill(`${day}T21:00`)
  await page.getByRole('button', { name: 'End this campaign and begin the next' }).click()
  await expect(page).toHaveURL(/\/bench\/campaign$/)
  await expect(page.getByRole('heading', { name: 'Second Lights', level: 1 })).toBeVisible()
  await shoot(page, 'next-campaign-begun', info.project.name)

  // What the first taught the second.
  await page.goto(`${house.url}/bench/close-out/years`)
  await expect(page.getByRole('heading', { name: 'What each design raised, and what is in it' })).toBeVisible()
  await expect(page.getByRole('navigation', { name: 'Which campaign' }).getByRole('link')).toHaveCount(3)
  await expectAccessible(page)
  await shoot(page, 'what-it-taught', info.project.name)
  await page.getByRole('navigation', { name: 'Which campaign' }).getByRole('link', { name: 'Second Lights' }).click()
  await expect(page).toHaveURL(/years\?of=2$/)
  await expect(page.getByText('Nothing has been bid or given yet.')).toBeVisible()

  // The present one has nothing yet; the one before is at its own address and says that it is over.
  await page.goto(house.url)
  await expect(page.getByText('No lot is shown yet.')).toBeVisible()
  await shoot(page, 'next-campaign-front', info.project.name)
  const footer = page.getByRole('contentinfo')
  await footer
    .getByRole('link', { name: raised.campaign?.name ?? /./ })
    .first()
    .click()
  await expect(page).toHaveURL(new RegExp(`/campaigns/${slug}$`))
  await expect(page.getByText('This campaign is over.')).toBeVisible()
  await expectAccessible(page)
  await shoot(page, 'earlier-campaign', info.project.name)
  const still = await (await page.request.get(`${house.url}/campaigns/${slug}/proceeds.json`)).json()
  expect(still.countedMinor).toBe(raised.countedMinor)
  expect((await (await page.request.get(`${house.url}/proceeds.json`)).json()).countedMinor).toBe(0)
  await page.goto(`${house.url}/lots/1`)
  await expect(page.getByText('a campaign that is over')).toBeVisible()
  await shoot(page, 'earlier-lot', info.project.name)

  // Its books are worked on after going there, and every page says so.
  await page.goto(`${house.url}/bench/campaign`)
  await page.getByRole('button', { name: 'Work on this one' }).click()
  await expect(page.getByText(/You are at work in .*, which is over/)).toBeVisible()
  await page.goto(`${house.url}/bench/money`)
  await expect(page.getByText(/You are at work in .*, which is over/)).toBeVisible()
  // What the house sends of the present campaign changes nothing here.
  await page.waitForTimeout(1_500)
  await expect(page.getByRole('meter').first()).toHaveAttribute('aria-valuenow', String(raised.countedMinor))
  await expectAccessible(page)
  await shoot(page, 'at-work-in-earlier', info.project.name)
  await page.goto(`${house.url}/bench/campaign`)
  await page.getByRole('button', { name: 'Back to this one' }).click()
  await expect(page.getByText(/You are at work in .*, which is over/)).toHaveCount(0)
})
