'use client'

import { useEffect } from 'react'

const WORKER = '/bench/parcels/worker.js'

/**
 * Lets this page open on this phone without a connection. Only where the browser allows it: over plain HTTP from another
 * device it does not, and then what is typed is kept all the same, but the page must still be open.
 */
export function useOpensOffline(): void {
  useEffect(() => {
    if (process.env.NODE_ENV !== 'production' || !('serviceWorker' in navigator)) return
    const tell = async () => {
      const registered = await navigator.serviceWorker.register(WORKER)
      const ready = registered.active ? registered : await whenActive(registered)
      const files = performance
        .getEntriesByType('resource')
        .map(({ name }) => name)
        .filter((name) => new URL(name).pathname.startsWith('/_next/static/'))
      ready.active?.postMessage({ keep: files })
    }
    // Refused where storage is forbidden: the page works as any other then.
    tell().catch(() => {})
  }, [])
}

const whenActive = (registered: ServiceWorkerRegistration): Promise<ServiceWorkerRegistration> =>
  new Promise((resolve) => {
    const worker = registered.installing ?? registered.waiting
    worker?.addEventListener('statechange', () => {
      if (worker.state === 'activated') resolve(registered)
    })
  })
