// The page on which a parcel is logged opens without a connection: this worker keeps the page as it was last seen,
// with the files that it is made of. Everything else goes to the house as ever.
const PAGE = '/bench/parcels/new'
const KEPT = 'tagstrip-parcel-page'
const PATIENCE_MS = 4000

self.addEventListener('install', () => self.skipWaiting())
self.addEventListener('activate', (event) => event.waitUntil(self.clients.claim()))

self.addEventListener('fetch', (event) => {
  const { request } = event
  const url = new URL(request.url)
  if (request.method !== 'GET' || url.origin !== self.location.origin) return
  if (request.mode === 'navigate' && url.pathname === PAGE) event.respondWith(newestPage(event))
  else if (url.pathname.startsWith('/_next/static/')) event.respondWith(keptFile(request))
})

// The page says what it was made of once it is there, fonts and late scripts too.
self.addEventListener('message', (event) => {
  if (event.data?.keep) event.waitUntil(keepPage(event.data.keep))
})

/** From the house if it answers soon; as it was last seen if it does not. */
async function newestPage(event) {
  const fromHouse = fetch(event.request)
  event.waitUntil(
    fromHouse.then(
      (answer) => answer.ok && keep(answer.clone()),
      () => {},
    ),
  )
  const late = new Promise((resolve) => setTimeout(resolve, PATIENCE_MS, null))
  const answer = await Promise.race([fromHouse.catch(() => null), late])
  if (answer && answer.status < 500) return answer
  const kept = await (await caches.open(KEPT)).match(PAGE)
  if (kept) return kept
  return answer ?? fromHouse.catch(notKeptYet)
}

const notKeptYet = () =>
  new Response(
    '<!doctype html><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>No connection</title><body style="font:1.1rem/1.5 sans-serif;margin:24px;max-width:34em"><h1>No connection</h1><p>This page was not opened on this phone before, so it is not kept here. Write down who sent the parcel and what was in it, and open the page once there is a connection.</p><p><a href="">Try again</a></p>',
    { status: 503, headers: { 'content-type': 'text/html; charset=utf-8' } },
  )

/** Files are named by their content, so one that is kept is the right one for ever. */
async function keptFile(request) {
  const cache = await caches.open(KEPT)
  const kept = await cache.match(request)
  if (kept) return kept
  const answer = await fetch(request)
  if (answer.ok) await cache.put(request, answer.clone())
  return answer
}

async function keepPage(files) {
  const answer = await fetch(PAGE, { credentials: 'same-origin' })
  if (answer.ok) await keep(answer, files)
}

/** Keeps the page and what it names, and lets go of files of an earlier build. */
async function keep(answer, more = []) {
  const cache = await caches.open(KEPT)
  const html = await answer.clone().text()
  const named = html.match(/\/_next\/static\/[^"'\\\s)<>]+/g) ?? []
  const wanted = new Set([...named, ...more].map((path) => new URL(path, self.location.origin).href))
  await Promise.all([...wanted].map(async (file) => (await cache.match(file)) || cache.add(file).catch(() => {})))
  await cache.put(PAGE, answer)
  // What is not told by the page itself is let go only when the page has told all it was made of.
  if (more.length === 0) return
  for (const request of await cache.keys()) {
    if (!wanted.has(request.url) && new URL(request.url).pathname !== PAGE) await cache.delete(request)
  }
}
