import { type Instant, MINUTE } from '#kernel/instant'

/** After so many tries, some three days, a letter waits for somebody to look at it (common practice, no source). */
export const MOST_TRIES = 12

/** Each try waits twice as long as the one before it: a minute, two, four … */
export const nextTryAt = (tries: number, now: Instant): Instant => now + 2 ** tries * MINUTE

interface MailFault {
  code?: unknown
  command?: unknown
  responseCode?: unknown
}

/**
 * True where trying again cannot help: the server refused this letter's address or its words for good, with a reply of
 * 500 to 599 (RFC 5321 section 4.2.1). A refused password is the house's own to put right, and not the letter's fault.
 */
export function isRefusedForGood(reason: unknown): boolean {
  if (typeof reason !== 'object' || reason === null) return false
  const { code, responseCode } = reason as MailFault
  return (code === 'EENVELOPE' || code === 'EMESSAGE') && typeof responseCode === 'number' && responseCode >= 500
}

/** What may be logged of a letter that did not go: "EENVELOPE 550 at RCPT TO", and none of the server's own words. */
export function replyOf(reason: unknown): string {
  if (typeof reason !== 'object' || reason === null) return 'a fault of ours'
  const { code, responseCode, command } = reason as MailFault
  const plain = [code, responseCode].filter((one) => typeof one === 'number' || (typeof one === 'string' && /^[A-Z]+$/.test(one)))
  const said = plain.length > 0 ? plain.join(' ') : 'a fault of ours'
  return typeof command === 'string' && /^[A-Z]+( TO| FROM)?$/.test(command) ? `${said} at ${command}` : said
}
