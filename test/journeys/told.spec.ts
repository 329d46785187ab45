import type { BrowserContext, Page } from '@playwright/test'
import { expect, expectAccessible, type RunningHouse, shoot, stepInto, test } from './journey'

// Messages to a device: switched on, shown by our own worker, tapped, and deleted. The push service of a browser's maker is not asked.
test.describe.configure({ mode: 'serial' })

/** A browser whose push service says yes at once, with keys as browsers make them. */
async function withPushService(page: Page, house: RunningHouse): Promise<void> {
  await page.context().grantPermissions(['notifications', 'clipboard-read', 'clipboard-write'], { origin: house.url })
  await page.addInitScript(() => {
    const kept = 'a-subscription-of-the-test'
    const subscription = () => ({
      endpoint: `https://push.example.org/send/${localStorage.getItem(kept)}`,
      toJSON() {
        const p256dh = `BCVxsr7N_eNgVRqvHtD0zTZsEc6-VV-JvLexhqUzORcxaOzi6-AYWXvTBHm4bjyPjs7Vd8pZGH6SRpkNtoIAiw4`
        return { endpoint: this.endpoint, keys: { p256dh, auth: 'BTBZMqHH6r4Tts7J_aSIgg' } }
      },
      async unsubscribe() {
        localStorage.removeItem(kept)
        return true
      },
    })
    const found = () => (localStorage.getItem(kept) === null ? null : subscription())
    PushManager.prototype.getSubscription = async () => found() as unknown as PushSubscription | null
    PushManager.prototype.subscribe = async () => {
      localStorage.setItem(kept, Math.random().toString(36).slice(2).padEnd(12, '0').slice(0, 12))
      return subscription() as unknown as PushSubscription
    }
  })
}

/** Hands a message to the worker of the house, as the browser does when its push service has one. */
async function deliver(context: BrowserContext, page: Page, house: RunningHouse, data: unknown): Promise<void> {
  const session = await context.newCDPSession(page)
  const found = new Promise<string>((resolve) => {
    session.on('ServiceWorker.workerRegistrationUpdated', ({ registrations }) => {
      const ours = registrations.find(({ scopeURL }) => scopeURL.endsWith('/me/told'))
      if (ours) resolve(ours.registrationId)
    })
  })
  await session.send('ServiceWorker.enable')
  await session.send('ServiceWorker.deliverPushMessage', {
    origin: house.url,
    registrationId: await found,
    data: typeof data === 'string' ? data : JSON.stringify(data),
  })
}

const shown = (page: Page) =>
  page.evaluate(async () => {
    const worker = await navigator.serviceWorker.getRegistration('/me/told')
    return ((await worker?.getNotifications()) ?? []).map(({ title, body, tag, data }) => ({ title, body, tag, url: data.url as string }))
  })

test('a device is told: switched on from a lot, a message is shown, and the device is deleted', async ({ watched, house }, info) => {
  await withPushService(watched, house)
  await stepInto(watched, house, 'Sunniva Dahl')
  await watched.goto(`${house.url}/lots/3`)
  await watched.getByRole('link', { name: 'Tell me on this device' }).click()
  await expect(watched.getByRole('heading', { name: 'How we tell you' })).toBeVisible()
  await watched.getByRole('button', { name: 'Send messages to this device' }).click()
  await expect(watched.getByText('Messages come to this device')).toBeVisible()
  await expect(watched.getByRole('button', { name: /^Lot 3,/ })).toHaveAttribute('aria-pressed', 'true')
  await expect(watched.getByRole('row', { name: /This one/ })).toBeVisible()
  await watched.getByRole('button', { name: 'Every lot I bid on' }).click()
  await expect(watched.getByRole('button', { name: 'Every lot I bid on' })).toHaveAttribute('aria-pressed', 'true')
  await expectAccessible(watched)
  await shoot(watched, 'told', info.project.name)

  await deliver(watched.context(), watched, house, { title: 'Outbid on lot 3', body: 'Somebody else leads.', url: '/lots/3', tag: 'lot-3' })
  await expect
    .poll(() => shown(watched))
    .toEqual([{ title: 'Outbid on lot 3', body: 'Somebody else leads.', tag: 'lot-3', url: '/lots/3' }])
  // The next one about the same lot takes its place.
  await deliver(watched.context(), watched, house, { title: 'You won lot 3', body: 'It is yours.', url: '/me/won/3', tag: 'lot-3' })
  await expect.poll(async () => (await shown(watched)).map(({ title }) => title)).toEqual(['You won lot 3'])
  // The worker stands before no page and keeps none.
  expect(await watched.evaluate(() => caches.keys())).toEqual([])

  await watched.getByRole('button', { name: 'Sound and vibration' }).click()
  await expect(watched.getByText('On. A page can make a sound once you have tapped it.')).toBeVisible()
  await watched.getByLabel('Time zone').selectOption('Pacific/Auckland')
  await watched.getByRole('button', { name: 'Save the time zone' }).click()
  await expect(watched.getByText('Our emails say times in Pacific/Auckland.')).toBeVisible()

  await watched.getByRole('button', { name: 'Stop messages to this device' }).click()
  await expect(watched.getByRole('button', { name: 'Send messages to this device' })).toBeVisible()
  await expect(watched.getByRole('row', { name: /This one/ })).toHaveCount(0)
})
