import type { IncomingHttpHeaders, IncomingMessage } from 'node:http'

/** Tags and serials as they stand on machines and papers: what else the pages take for one is made for whoever asks. */
const TAG = '[A-Z][A-Z0-9]{0,18}-(?:0\\d|[1-9]\\d{1,2})'
const SERIAL = 'TS-\\d{4}-(?:\\d{4}|[1-9]\\d{4,8})-[0-9A-Z]'

/** The pages that are the same for everybody who is not signed in, each at the one address that it has: no other writing of it is kept. */
const KEPT: readonly RegExp[] = [
  /^\/$/,
  /^\/lots\/[1-9]\d{0,8}(?:\/history)?$/,
  /^\/check$/,
  /^\/programme$/,
  /^\/raised$/,
  new RegExp(`^/units/${TAG}$`),
  new RegExp(`^/certificates/${SERIAL}$`),
  new RegExp(`^/credits(?:/lots/[1-9]\\d{0,5}|/units/${TAG})?$`),
]

/** Whether the pages' own program asks, which wants a part of a page and no page: that is made for whoever asks, here and through a relay. */
export function asksForPart(headers: IncomingHttpHeaders): boolean {
  for (const name in headers) if (name === 'rsc' || name.startsWith('next-')) return true
  return false
}

/** The address of a page that may be kept, where that is what is asked for; null for everything else. */
export function keepablePath({ method, url = '', headers }: Pick<IncomingMessage, 'method' | 'url' | 'headers'>): string | null {
  if (method !== 'GET' && method !== 'HEAD') return null
  if (!KEPT.some((page) => page.test(url))) return null
  if (asksForPart(headers)) return null
  return url
}

/** These show no price at all. */
const SHOWS_NO_PRICE = /^\/(units\/|certificates\/|check$)/
const LOT = /^\/lots\/(\d+)(?:\/history)?$/

/** Whose bids change what stands on a page, as long as they extend no closing: those on any lot, on one, or on none. */
export function bidsShownOn(path: string): 'any' | 'none' | number {
  if (SHOWS_NO_PRICE.test(path)) return 'none'
  const lot = LOT.exec(path)?.[1]
  return lot === undefined ? 'any' : Number(lot)
}
