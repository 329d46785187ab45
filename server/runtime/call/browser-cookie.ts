import { randomBytes } from 'node:crypto'
import { DAY, SECOND } from '#kernel/instant'

/** A browser keeps its own value for so long, so that it is known again where somebody signed in with it before. */
export const BROWSER_IS_KNOWN_FOR = 90 * DAY

/** The cookie that binds a sign-in code to one browser. `__Host-` needs TLS, which localhost does without. */
export const browserCookieName = (publicUrl: string): string =>
  publicUrl.startsWith('https:') ? '__Host-tagstrip-browser' : 'tagstrip-browser'

export function readCookie(cookies: string, name: string): string | null {
  for (const part of cookies.split(';')) {
    const [key, ...value] = part.trim().split('=')
    if (key === name) return value.join('=')
  }
  return null
}

export function makeBrowserCookie(publicUrl: string): { value: string; header: string } {
  const value = randomBytes(18).toString('base64url')
  const secure = publicUrl.startsWith('https:') ? '; Secure' : ''
  return {
    value,
    header: `${browserCookieName(publicUrl)}=${value}; Path=/; HttpOnly; SameSite=Strict; Max-Age=${BROWSER_IS_KNOWN_FOR / SECOND}${secure}`,
  }
}
