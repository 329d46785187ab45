// Keeps the checking page on this device: the page, what it is made of, the published keys, what the house says of all
// its certificates, and the signed records that were opened on it. What is newer is taken where there is a connection; it answers for nothing but /check.
const SHELF = 'tagstrip-check-1'
const PAGE = '/check'
const KEYS = '/.well-known/jwks.json'
const STANDING = '/certificates.json'

self.addEventListener('install', () => self.skipWaiting())
self.addEventListener('activate', (event) => event.waitUntil(self.clients.claim()))

self.addEventListener('message', (event) => {
  const [line] = event.ports
  event.waitUntil(
    keepAll(event.data.keep).then(
      () => line?.postMessage('kept'),
      () => line?.postMessage('not kept'),
    ),
  )
})

async function keepAll(parts) {
  const shelf = await caches.open(SHELF)
  // As nobody: the kept page must not carry the name of who was signed in.
  const page = await fetch(PAGE, { credentials: 'omit' })
  if (!page.ok) throw new Error(`the page answered ${page.status}`)
  await shelf.put(PAGE, page)
  await shelf.addAll([KEYS, STANDING, ...parts])
}

self.addEventListener('fetch', (event) => {
  const url = new URL(event.request.url)
  if (event.request.method !== 'GET' || url.origin !== self.location.origin) return
  if (url.pathname.startsWith('/_next/static/')) event.respondWith(fromShelfFirst(event.request))
  else if (event.request.mode === 'navigate') event.respondWith(fromHouseFirst(event.request, PAGE, false))
  else if (url.pathname === KEYS || url.pathname === STANDING || /^\/certificates\/[^/]+(\/status)?\.json$/.test(url.pathname))
    event.respondWith(fromHouseFirst(event.request, url.pathname, true))
})

async function fromShelfFirst(request) {
  const shelf = await caches.open(SHELF)
  const kept = await shelf.match(request, { ignoreSearch: true })
  return kept ?? fetch(request)
}

async function fromHouseFirst(request, name, keep) {
  const shelf = await caches.open(SHELF)
  try {
    const fresh = await fetch(request)
    if (keep && fresh.ok) await shelf.put(name, fresh.clone())
    return fresh
  } catch (reason) {
    const kept = await shelf.match(name)
    if (kept) return kept
    throw reason
  }
}
