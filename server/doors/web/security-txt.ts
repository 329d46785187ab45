import { DAY, type Instant, toIso } from '#kernel/instant'

export const SECURITY_TXT = '/.well-known/security.txt'
const GOOD_FOR = 180 * DAY

/** RFC 9116: whom to tell of a weakness, until when that holds, and where it is written what is promised. Null in a house that names nobody. */
export const securityTxt = (contact: string | undefined, publicUrl: string, now: Instant): string | null =>
  contact === undefined
    ? null
    : [
        `Contact: ${contact}`,
        `Expires: ${toIso(now + GOOD_FOR)}`,
        'Preferred-Languages: en',
        `Canonical: ${publicUrl}${SECURITY_TXT}`,
        `Policy: ${publicUrl}/security.md`,
        '',
      ].join('\r\n')
