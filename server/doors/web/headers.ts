import { randomBytes } from 'node:crypto'
import type { IncomingMessage, ServerResponse } from 'node:http'
import { pagePolicy, REPORTS } from '../pages/page-policy.rules'

/** For whatever is no page: shown by itself, it loads nothing, runs nothing and stands in no frame. */
const QUIET_POLICY = "default-src 'none'; object-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

/** What a page of ours may use of a device: the camera on the scanning page and passkeys. Nobody else's page may from within ours. */
const PERMISSIONS = [
  'camera=(self)',
  'publickey-credentials-create=(self)',
  'publickey-credentials-get=(self)',
  ...['display-capture', 'geolocation', 'hid', 'microphone', 'midi', 'payment', 'serial', 'usb'].map((name) => `${name}=()`),
].join(', ')

const A_YEAR_IN_SECONDS = 31_536_000

export interface HouseHeaders {
  /** What every answer carries, whoever gives it and whatever its status. */
  always: readonly (readonly [name: string, value: string])[]
  secure(response: ServerResponse): void
  /**
   * For a page: a policy with a word that was never used before. The pages read it from the request, as if a policy had
   * come with it, and put it on their scripts; what a visitor wrote there is gone by then. `player` is the origin of the stream's player.
   */
  forPage(request: IncomingMessage, response: ServerResponse, player?: string | null): void
}

export function openHeaders({ publicUrl, isDev }: { publicUrl: string; isDev: boolean }): HouseHeaders {
  const always: HouseHeaders['always'] = [
    // Live reload in development evaluates code, which the policy forbids.
    ...(isDev ? [] : [['content-security-policy', QUIET_POLICY] as const]),
    ['x-content-type-options', 'nosniff'],
    ['referrer-policy', 'same-origin'],
    ['cross-origin-opener-policy', 'same-origin'],
    ['cross-origin-resource-policy', 'same-origin'],
    ['permissions-policy', PERMISSIONS],
    ...(publicUrl.startsWith('https:') ? [['strict-transport-security', `max-age=${A_YEAR_IN_SECONDS}; includeSubDomains`] as const] : []),
  ]
  return {
    always,
    secure(response) {
      for (const [name, value] of always) response.setHeader(name, value)
    },
    forPage(request, response, player = null) {
      delete request.headers['content-security-policy-report-only']
      delete request.headers['content-security-policy']
      if (isDev) return
      const nonce = `nonce-${randomBytes(16).toString('base64')}`
      const policy = pagePolicy({ scripts: [nonce], styles: [nonce], player })
      request.headers['content-security-policy'] = policy
      response.setHeader('content-security-policy', policy)
      response.setHeader('reporting-endpoints', `reports="${publicUrl}${REPORTS}"`)
    },
  }
}

/** The word that a page's policy asks of its scripts and styles, for whoever adds one to it. */
export const nonceOf = (request: IncomingMessage): string =>
  /'nonce-([^']+)'/.exec(String(request.headers['content-security-policy'] ?? ''))?.[1] ?? ''

/** Open data may be read by pages of others. */
export function letOthersRead(response: ServerResponse): void {
  response.setHeader('access-control-allow-origin', '*')
  response.setHeader('cross-origin-resource-policy', 'cross-origin')
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
