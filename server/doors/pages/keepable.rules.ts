import type { IncomingMessage } from 'node:http'

/** The pages that are the same for everybody who is not signed in, each at the one address that it has: no other writing of it is kept. */
const KEPT: readonly RegExp[] = [
  /^\/$/,
  /^\/lots\/[1-9]\d{0,8}$/,
  /^\/programme$/,
  /^\/raised$/,
  /^\/units\/[A-Za-z0-9-]{1,40}$/,
  /^\/certificates\/[A-Za-z0-9-]{1,60}$/,
  /^\/credits(\/lots\/[1-9]\d{0,5}|\/units\/[A-Za-z0-9-]{1,40})?$/,
]

/** What the pages' own program asks with, when it wants a part of a page and no page. */
const asksForPart = (name: string): boolean => name === 'rsc' || name.startsWith('next-')

/** The address of a page that may be kept, where that is what is asked for; null for everything else. */
export function keepablePath({ method, url = '', headers }: Pick<IncomingMessage, 'method' | 'url' | 'headers'>): string | null {
  if (method !== 'GET' && method !== 'HEAD') return null
  if (!KEPT.some((page) => page.test(url))) return null
  for (const name in headers) if (asksForPart(name)) return null
  return url
}

/** These show no price at all. */
const SHOWS_NO_PRICE = /^\/(units|certificates)\//
const LOT = /^\/lots\/(\d+)$/

/** Whose bids change what stands on a page, as long as they extend no closing: those on any lot, on one, or on none. */
export function bidsShownOn(path: string): 'any' | 'none' | number {
  if (SHOWS_NO_PRICE.test(path)) return 'none'
  const lot = LOT.exec(path)?.[1]
  return lot === undefined ? 'any' : Number(lot)
}
