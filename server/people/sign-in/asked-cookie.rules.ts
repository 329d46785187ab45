import { MINUTE, SECOND } from '#kernel/instant'
import type { FieldWords } from '#kernel/refusal'
import { CODE_MINUTES } from './code-life.rules'

/** How far somebody has come who signs in without script: told to the page by a cookie, since an address is kept in histories. */
export interface Asked {
  email: string
  /** Whether a code is on its way to that address. */
  isSent: boolean
  /** In a demo, whose mail goes nowhere. */
  demoCode: string | null
  refused: { words: string; fields: FieldWords } | null
}

export const ASKED_COOKIE = 'tagstrip-asked'

/** No mailbox is longer, and a browser keeps no cookie of more than some four thousand bytes. */
const MOST_KEPT = 254

/** The header that keeps it for as long as a code is good; null takes it away. */
export function askedCookie(asked: Asked | null, publicUrl: string): string {
  const value =
    asked === null ? '' : Buffer.from(JSON.stringify({ ...asked, email: asked.email.slice(0, MOST_KEPT) })).toString('base64url')
  const seconds = asked === null ? 0 : (CODE_MINUTES * MINUTE) / SECOND
  return `${ASKED_COOKIE}=${value}; Path=/sign-in; HttpOnly; SameSite=Strict; Max-Age=${seconds}${publicUrl.startsWith('https:') ? '; Secure' : ''}`
}

/** What the cookie holds; null for anything that the house did not write so, since a cookie can be written by anybody. */
export function readAsked(value: string | null | undefined): Asked | null {
  try {
    const told: unknown = JSON.parse(Buffer.from(value ?? '', 'base64url').toString('utf8'))
    return isAsked(told) ? told : null
  } catch {
    return null
  }
}

function isAsked(told: unknown): told is Asked {
  if (typeof told !== 'object' || told === null) return false
  const { email, isSent, demoCode, refused } = told as Partial<Asked>
  return (
    typeof email === 'string' &&
    typeof isSent === 'boolean' &&
    (demoCode === null || typeof demoCode === 'string') &&
    (refused === null ||
      (typeof refused === 'object' &&
        typeof refused.words === 'string' &&
        typeof refused.fields === 'object' &&
        refused.fields !== null &&
        Object.values(refused.fields).every((words) => typeof words === 'string')))
  )
}
