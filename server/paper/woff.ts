import { inflateSync } from 'node:zlib'
import { invariant } from '#kernel/invariant'

const HEADER = 44
const ENTRY = 20

/**
 * Unpacks a WOFF 1.0 font (W3C Recommendation, sections 3 to 5) to the plain one inside. The PDF maker
 * reads WOFF too, but inflates it in JavaScript for every paper: a quarter of a second that bids would wait.
 */
export function unpackWoff(woff: Buffer): Buffer {
  invariant(woff.toString('latin1', 0, 4) === 'wOFF', 'a font file is WOFF 1.0')
  const count = woff.readUInt16BE(12)
  const tables = Array.from({ length: count }, (_, index) => {
    const at = HEADER + index * ENTRY
    const offset = woff.readUInt32BE(at + 4)
    const packed = woff.readUInt32BE(at + 8)
    const length = woff.readUInt32BE(at + 12)
    const bytes = woff.subarray(offset, offset + packed)
    return { tag: woff.subarray(at, at + 4), sum: woff.readUInt32BE(at + 16), bytes: packed < length ? inflateSync(bytes) : bytes, length }
  })
  const head = Buffer.alloc(12 + 16 * count)
  woff.copy(head, 0, 4, 8)
  head.writeUInt16BE(count, 4)
  const fit = Math.floor(Math.log2(count))
  head.writeUInt16BE(16 * 2 ** fit, 6)
  head.writeUInt16BE(fit, 8)
  head.writeUInt16BE(16 * (count - 2 ** fit), 10)
  let offset = head.length
  const parts: Buffer[] = [head]
  for (const [index, { tag, sum, bytes, length }] of tables.entries()) {
    invariant(bytes.length === length, 'a table of the font has the length that its directory says')
    const at = 12 + 16 * index
    tag.copy(head, at)
    head.writeUInt32BE(sum, at + 4)
    head.writeUInt32BE(offset, at + 8)
    head.writeUInt32BE(length, at + 12)
    const padding = Buffer.alloc((4 - (length % 4)) % 4)
    parts.push(bytes, padding)
    offset += length + padding.length
  }
  return Buffer.concat(parts)
}
