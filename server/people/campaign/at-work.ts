import { readCookie } from '#runtime/call/browser-cookie'

/** The cookie of a browser in which the staff are at work in an earlier campaign: the name of that in addresses. */
const AT_WORK_IN = 'tagstrip-campaign'

/** What the cookie says; null where there is none. */
export const atWorkIn = (cookies: string): string | null => readCookie(cookies, AT_WORK_IN) || null

/** Sets the cookie until the browser is closed, or with an empty name takes it away. */
export const atWorkCookie = (slug: string, publicUrl: string): string =>
  `${AT_WORK_IN}=${slug}; Path=/; HttpOnly; SameSite=Strict${slug === '' ? '; Max-Age=0' : ''}${publicUrl.startsWith('https:') ? '; Secure' : ''}`
