/** An address has no more signs than this; Node turns away a whole head of sixteen kilobytes. */
const MOST = 8_000

/**
 * What a request line asks for, or null where that is no address: `*`, `http://[`, a path that begins with two slashes
 * (browsers and libraries read it as another house), or one with a percent sign that stands for nothing.
 */
export function addressAsked(line: string): URL | null {
  if (line.length > MOST) return null
  const whole = line.startsWith('/') ? `http://house${line}` : line
  if (!URL.canParse(whole)) return null
  const url = new URL(whole)
  if (url.protocol !== 'http:' && url.protocol !== 'https:') return null
  return url.pathname.startsWith('//') || line.startsWith('/\\') || !isDecodable(url.pathname) ? null : url
}

function isDecodable(path: string): boolean {
  try {
    const plain = decodeURIComponent(path)
    // A page takes its part of the address apart once more.
    decodeURIComponent(plain)
    return !plain.includes('\0')
  } catch {
    return false
  }
}
