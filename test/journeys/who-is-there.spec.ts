import { join } from 'node:path'
import type { Page } from '@playwright/test'
import Database from 'better-sqlite3'
import { expect, expectAccessible, type RunningHouse, shoot, stepInto, test } from './journey'

/** A device that holds passkeys and has somebody at it, as the browser's own tools lay one in. */
async function giveDevice(page: Page) {
  const browser = await page.context().newCDPSession(page)
  await browser.send('WebAuthn.enable')
  const { authenticatorId } = await browser.send('WebAuthn.addVirtualAuthenticator', {
    options: {
      protocol: 'ctap2',
      transport: 'internal',
      hasResidentKey: true,
      hasUserVerification: true,
      isUserVerified: true,
      automaticPresenceSimulation: true,
    },
  })
  return {
    keys: async () => (await browser.send('WebAuthn.getCredentials', { authenticatorId })).credentials.length,
    /** Whoever holds the device shows a finger, or does not. */
    holdBy: (isOwner: boolean) => browser.send('WebAuthn.setUserVerified', { authenticatorId, isUserVerified: isOwner }),
  }
}

/** Nobody confirmed anything for eleven minutes. */
function elevenMinutesPass({ dataDir }: RunningHouse): void {
  const handle = new Database(join(dataDir, 'tagstrip.db'))
  handle.exec('UPDATE session SET created_at = created_at - 660000, confirmed_at = confirmed_at - 660000')
  handle.close()
}

test('the maker keeps a passkey, signs in with it and confirms a change of role, and nothing typed is lost', async ({
  watched: page,
  house,
}, info) => {
  const device = await giveDevice(page)
  await stepInto(page, house, 'Wilma Harrow')
  await page.getByRole('link', { name: 'Sessions' }).click()
  const add = page.getByRole('form', { name: 'Add a passkey' })
  await add.getByRole('button', { name: 'Add a passkey' }).click()
  await expect(add.getByLabel('A name for it')).toHaveAccessibleDescription(/Give it a name/)
  expect(await device.keys(), 'no key is made for a name that is not taken').toBe(0)
  await add.getByLabel('A name for it').fill('the phone in my apron')
  await add.getByRole('button', { name: 'Add a passkey' }).click()
  await expect(page.getByRole('heading', { name: 'the phone in my apron' })).toBeVisible()
  await expect(add.getByLabel('A name for it')).toHaveValue('')
  expect(await device.keys()).toBe(1)
  await expectAccessible(page)
  await page.evaluate(() => window.scrollTo(0, 0))
  await shoot(page, 'sessions', info.project.name)

  await page.getByRole('button', { name: 'Sign out' }).click()
  await page.waitForURL((url) => url.pathname === '/')
  await page.goto(`${house.url}/sign-in?next=/bench/people`)
  await device.holdBy(false)
  await page.getByRole('button', { name: 'Use a passkey' }).click()
  await expect(page.getByRole('alert', { name: /No passkey was used/ })).toBeVisible()
  await device.holdBy(true)
  await expectAccessible(page)
  await page.getByRole('button', { name: 'Use a passkey' }).click()
  await page.waitForURL((url) => url.pathname === '/bench/people')

  elevenMinutesPass(house)
  await page.getByLabel('Email address').fill('rosa@longbench.example')
  await page.getByLabel('Role', { exact: true }).selectOption('host')
  await page.getByRole('button', { name: 'Give the role' }).click()
  const asked = page.getByRole('dialog', { name: 'Confirm that it is you' })
  await expect(asked).toBeVisible()
  await expectAccessible(page)
  await shoot(page, 'confirm', info.project.name, false)
  await asked.getByRole('button', { name: 'Not now' }).click()
  await expect(page.getByRole('alert', { name: /First confirm that it is you/ })).toBeVisible()
  await expect(page.getByLabel('Email address')).toHaveValue('rosa@longbench.example')
  await page.getByRole('button', { name: 'Give the role' }).click()
  await asked.getByRole('button', { name: 'Use a passkey' }).click()
  await expect(asked).toBeHidden()
  await expect(page.getByRole('cell', { name: 'rosa@longbench.example' })).toBeVisible()
})

test('without a passkey a code confirms; the demo shows it where it is asked for', async ({ watched: page, house }, info) => {
  await stepInto(page, house, 'Edda Quill')
  elevenMinutesPass(house)
  await page.goto(`${house.url}/bench/money/terms`)
  await page.getByLabel('Whose account it is, as the bank knows it').fill('Ferry Lane Repair School')
  await page.getByRole('button', { name: 'Save' }).click()
  const asked = page.getByRole('dialog', { name: 'Confirm that it is you' })
  await asked.getByRole('button', { name: /^Email a code to/ }).click()
  const shown = asked.getByText(/This is a demo/)
  await expect(shown).toBeVisible()
  const code = /\d{6}/.exec((await shown.textContent()) ?? '')?.[0] ?? ''
  await asked.getByLabel('The code from the email').fill(code === '000000' ? '000001' : '000000')
  await asked.getByRole('button', { name: 'Confirm' }).click()
  await expect(asked.getByLabel('The code from the email')).toHaveAccessibleDescription(/does not work/)
  await shoot(page, 'confirm-by-code', info.project.name, false)
  await asked.getByLabel('The code from the email').fill(code)
  await asked.getByRole('button', { name: 'Confirm' }).click()
  await expect(asked).toBeHidden()
})

test('a session that is ended from elsewhere is over in its browser at once', async ({ watched: page, house, another }) => {
  await stepInto(page, house, 'Jory Penn')
  const forgotten = await another()
  await stepInto(forgotten, house, 'Jory Penn')
  await page.goto(`${house.url}/me/sessions`)
  await page
    .getByRole('button', { name: /^End it/ })
    .first()
    .click()
  await expect(page.getByRole('button', { name: /^End it/ })).toHaveCount(0)
  await forgotten.goto(`${house.url}/me/sessions`)
  await forgotten.waitForURL((url) => url.pathname === '/sign-in')
})

test('opened at another address than its own, the house says why no passkey works there', async ({ watched: page, house }) => {
  await page.goto(`${house.url.replace('localhost', '127.0.0.1')}/sign-in`)
  await expect(page.getByText(`Passkeys work at ${house.url}`)).toBeVisible()
  await expect(page.getByRole('button', { name: 'Use a passkey' })).toHaveCount(0)
  await expect(page.getByRole('button', { name: 'Email me a code' })).toBeVisible()
})
