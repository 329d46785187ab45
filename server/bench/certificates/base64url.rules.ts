const ALPHABET = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_'

/** base64url without padding, RFC 7515 appendix C. */
export function toBase64url(bytes: Uint8Array): string {
  let text = ''
  for (let at = 0; at < bytes.length; at += 3) {
    const left = bytes.length - at
    const group = ((bytes[at] ?? 0) << 16) | ((bytes[at + 1] ?? 0) << 8) | (bytes[at + 2] ?? 0)
    for (let place = 0; place < Math.min(4, left + 1); place += 1) text += ALPHABET.charAt((group >> (18 - 6 * place)) & 63)
  }
  return text
}

/**
 * Null for anything but the one canonical spelling: padding, white space, `+` and `/`, a length that
 * cannot be, and spare bits of the last character that are not nought. Without that last rule several
 * spellings of one signature would pass, and a changed character could go unseen.
 */
export function fromBase64url(text: string): Uint8Array | null {
  if (!/^[A-Za-z0-9_-]*$/.test(text) || text.length % 4 === 1) return null
  const bytes = new Uint8Array(Math.floor((text.length * 3) / 4))
  let held = 0
  let bits = 0
  let at = 0
  for (const character of text) {
    held = ((held << 6) | ALPHABET.indexOf(character)) & 0xffff
    bits += 6
    if (bits >= 8) {
      bits -= 8
      bytes[at] = (held >> bits) & 0xff
      at += 1
    }
  }
  return (held & ((1 << bits) - 1)) === 0 ? bytes : null
}

/** What is wrong with the spelling of one part of a signed file, in words; null when it is the one canonical base64url (RFC 7515). */
export function faultOfPart(name: string, text: string): string | null {
  if (fromBase64url(text) !== null) return null
  if (/=/.test(text))
    return `Its ${name} is padded with "=": it was encoded anew, which a signed record never is. Take the file as the house gave it.`
  if (/[+/]/.test(text)) return `Its ${name} is in plain base64 with "+" or "/": it was encoded anew. Take the file as the house gave it.`
  if (/\s/.test(text))
    return `Its ${name} has spaces or line breaks in it: it was wrapped or copied by a program. Take the file as the house gave it.`
  const odd = /[^A-Za-z0-9_-]/.exec(text)
  if (odd) return `Its ${name} has a character at place ${odd.index + 1} that base64url does not have: it was changed or damaged.`
  if (text.length % 4 === 1) return `Its ${name} has a length that cannot be: something was cut off or added.`
  return `The last character of its ${name} was changed: it is not the one that canonical base64url has there.`
}
