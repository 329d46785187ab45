import type { IncomingMessage, ServerResponse } from 'node:http'

const POLICY = [
  "default-src 'self'",
  "base-uri 'none'",
  "object-src 'none'",
  "frame-ancestors 'self'",
  "form-action 'self'",
  "img-src 'self' data: blob:",
  // Next writes the page's data as inline scripts; a nonce for each request would keep public pages from being cached.
  "script-src 'self' 'unsafe-inline'",
  "style-src 'self' 'unsafe-inline'",
].join('; ')

/** What every answer carries. The overlay is shown by a video mixer and may be framed by our own pages only. */
export function secure(response: ServerResponse, isDev: boolean): void {
  // Live reload in development evaluates code, which the policy forbids.
  if (!isDev) response.setHeader('content-security-policy', POLICY)
  response.setHeader('x-content-type-options', 'nosniff')
  response.setHeader('referrer-policy', 'same-origin')
  response.setHeader('cross-origin-opener-policy', 'same-origin')
  response.setHeader('permissions-policy', 'camera=(self), microphone=(), geolocation=()')
}

/** A page that is one person's own: no search engine lists it, nothing keeps a copy, and no other site learns where its reader came from. */
export function hide(response: ServerResponse): void {
  response.setHeader('referrer-policy', 'no-referrer')
  response.setHeader('x-robots-tag', 'noindex, nofollow')
  response.setHeader('cache-control', 'no-store')
}

/**
 * True for a request that a page of ours makes: what changes something is taken from nowhere else. Which pages are ours
 * says the setting, and not the host that a request names, which is anybody's to choose.
 */
export function isOurOwn(request: IncomingMessage, publicUrl: string): boolean {
  const site = request.headers['sec-fetch-site']
  if (site && site !== 'same-origin' && site !== 'none') return false
  const { origin } = request.headers
  if (!origin) return site !== undefined || request.headers['x-tagstrip'] === '1'
  return origin === new URL(publicUrl).origin
}
