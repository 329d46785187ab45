/** Boxes that hold others in which a camera writes (ISO/IEC 14496-12). */
const HOLDS_OTHERS = new Set(['moov', 'trak'])
/** Boxes in which a camera writes where and when and with what it recorded. No player needs them. */
const SAYS_MORE = new Set(['udta', 'meta', 'uuid'])
const FREE = new TextEncoder().encode('free')
const HEAD_BYTES = 8

/**
 * An MP4 file without what the camera wrote into it beside sound and picture: each such box is made an empty one of the same
 * length, so that nothing else moves. What is no sequence of boxes is left as it is.
 */
export function withoutCameraWords(file: Uint8Array): Uint8Array {
  const plain = file.slice()
  empty(plain, 0, plain.byteLength)
  return plain
}

function empty(bytes: Uint8Array, from: number, to: number): void {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  for (let at = from; at + HEAD_BYTES <= to; ) {
    const type = String.fromCharCode(...bytes.subarray(at + 4, at + HEAD_BYTES))
    const { head, size } = sizeAt(view, at, to)
    if (size < head || at + size > to) return
    if (HOLDS_OTHERS.has(type)) empty(bytes, at + head, at + size)
    else if (SAYS_MORE.has(type)) {
      bytes.set(FREE, at + 4)
      bytes.fill(0, at + head, at + size)
    }
    at += size
  }
}

/** A size of 1 says that the true one follows, of 0 that the box goes on to the end. */
function sizeAt(view: DataView, at: number, to: number): { head: number; size: number } {
  const size = view.getUint32(at)
  if (size === 0) return { head: HEAD_BYTES, size: to - at }
  if (size !== 1) return { head: HEAD_BYTES, size }
  return at + 2 * HEAD_BYTES <= to
    ? { head: 2 * HEAD_BYTES, size: Number(view.getBigUint64(at + HEAD_BYTES)) }
    : { head: HEAD_BYTES, size: 0 }
}
