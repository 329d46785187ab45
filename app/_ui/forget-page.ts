import { KEPT_AS } from './forms/typed-text.rules'

/** The name under which the page for parcels is kept on a phone by its worker (public/bench/parcels/worker.js). */
const KEPT = 'tagstrip-parcel-page'

/** Whoever signs out leaves no names of donors on the phone, and nothing half written. Parcels that wait stay: they are not the house's yet. */
export async function forgetPage(): Promise<void> {
  for (const place of Object.keys(sessionStorage)) if (place.startsWith(KEPT_AS)) sessionStorage.removeItem(place)
  if ('caches' in globalThis) await caches.delete(KEPT).catch(() => false)
}
