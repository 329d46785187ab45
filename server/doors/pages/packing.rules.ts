export const PACKINGS = ['br', 'gzip', 'identity'] as const
export type Packing = (typeof PACKINGS)[number]

/** How a body may be packed for this reader: the best of what it says that it takes. */
export function packingFor(accepts: string | string[] | undefined): Packing {
  const offered = String(accepts ?? '')
    .toLowerCase()
    .split(',')
    .map((one) => one.trim())
    .filter((one) => !/;\s*q=0(\.0+)?$/.test(one))
    .map((one) => one.split(';')[0])
  return offered.includes('br') ? 'br' : offered.includes('gzip') ? 'gzip' : 'identity'
}

/** Whether a reader has an answer already (RFC 9110, 13.1.2: weak comparison). */
export function hasIt(ifNoneMatch: string | undefined, etag: string | undefined): boolean {
  if (!ifNoneMatch || !etag) return false
  const plain = (tag: string) => tag.trim().replace(/^W\//, '')
  return ifNoneMatch.trim() === '*' || ifNoneMatch.split(',').some((one) => plain(one) === plain(etag))
}
