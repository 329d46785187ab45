// Shows what the house tells this device, and opens the page when it is tapped. It keeps no page and answers no request.
self.addEventListener('install', () => self.skipWaiting())
self.addEventListener('activate', (event) => event.waitUntil(self.clients.claim()))

self.addEventListener('push', (event) => {
  const { title, body, url, tag } = event.data?.json() ?? {}
  if (typeof title !== 'string') return
  event.waitUntil(self.registration.showNotification(title, { body, tag, renotify: true, data: { url } }))
})

self.addEventListener('notificationclick', (event) => {
  event.notification.close()
  const url = new URL(event.notification.data?.url ?? '/me', self.location.origin)
  // What was told leads to pages of the house alone.
  event.waitUntil(openPage(url.origin === self.location.origin ? url.href : self.location.origin))
})

async function openPage(url) {
  const open = await self.clients.matchAll({ type: 'window', includeUncontrolled: true })
  const there = open.find((one) => one.url === url)
  return there ? there.focus() : self.clients.openWindow(url)
}
