/** Keeps this page on the device, so that it checks without a connection. True once it is kept. */
export async function keepPage(): Promise<boolean> {
  if (!('serviceWorker' in navigator)) return false
  try {
    await navigator.serviceWorker.register('/check-worker.js', { scope: '/check' })
    const { active } = await navigator.serviceWorker.ready
    if (!active) return false
    const loaded = performance.getEntriesByType('resource').map(({ name }) => new URL(name).pathname)
    const parts = [...new Set(loaded)].filter((path) => path.startsWith('/_next/static/'))
    return await kept(active, parts)
  } catch {
    // A browser in private use may forbid it: the page then needs a connection, and says so.
    return false
  }
}

const kept = (worker: ServiceWorker, parts: string[]): Promise<boolean> =>
  new Promise((resolve) => {
    const line = new MessageChannel()
    line.port1.onmessage = ({ data }) => resolve(data === 'kept')
    worker.postMessage({ keep: parts }, [line.port2])
  })
