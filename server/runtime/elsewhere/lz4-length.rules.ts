const MAGIC = 0x184d2204

/**
 * How many bytes an LZ4 frame holds when it is unpacked (lz4_Frame_format.md of the reference implementation), without unpacking
 * it. Throws where it is cut short or is no such frame.
 */
export function lz4Length(frame: Uint8Array): number {
  const view = new DataView(frame.buffer, frame.byteOffset, frame.byteLength)
  if (view.getUint32(0, true) !== MAGIC) throw new Error('it is not an LZ4 frame')
  const flags = view.getUint8(4)
  const has = (bit: number) => (flags >> bit) & 1
  let at = 7 + (has(3) ? 8 : 0) + (has(0) ? 4 : 0)
  let length = 0
  for (;;) {
    const size = view.getUint32(at, true)
    at += 4
    if (size === 0) break
    const bytes = size & 0x7fffffff
    if (at + bytes > frame.byteLength) throw new RangeError('it is cut short')
    length += size >>> 31 ? bytes : blockLength(frame.subarray(at, at + bytes))
    at += bytes + (has(4) ? 4 : 0)
  }
  if (has(2) && at + 4 > frame.byteLength) throw new RangeError('it is cut short')
  return length
}

/** Of one packed block: each sequence is some bytes as they are, then a stretch of what came before. */
function blockLength(block: Uint8Array): number {
  let at = 0
  let length = 0
  const further = (): number => {
    let sum = 0
    for (;;) {
      const one = block[at++]
      if (one === undefined) throw new RangeError('it is cut short')
      sum += one
      if (one !== 255) return sum
    }
  }
  while (at < block.length) {
    const token = block[at++] ?? 0
    const asTheyAre = (token >> 4) + (token >> 4 === 15 ? further() : 0)
    at += asTheyAre
    length += asTheyAre
    if (at >= block.length) break
    at += 2
    length += (token & 15) + 4 + ((token & 15) === 15 ? further() : 0)
  }
  return length
}
