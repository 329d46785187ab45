/** What a request wants of a file: all of it, some of it, or what the file does not have. */
export type AskedRange = 'all' | 'none' | { first: number; last: number }

/**
 * One range of bytes as RFC 9110, 14.1.2, writes it. Several at once, or what is no range, may be ignored by whoever is asked:
 * then all of the file is given.
 */
export function rangeAsked(header: string | undefined, size: number): AskedRange {
  const [, from = '', to = ''] = /^bytes=(\d{0,15})-(\d{0,15})$/.exec(header?.trim() ?? '') ?? []
  if (from === '' && to === '') return 'all'
  if (from === '') return Number(to) === 0 ? 'none' : { first: Math.max(0, size - Number(to)), last: size - 1 }
  const first = Number(from)
  const last = to === '' ? size - 1 : Math.min(Number(to), size - 1)
  if (to !== '' && Number(to) < first) return 'all'
  return first < size ? { first, last } : 'none'
}
