/** Where a box of an MP4 file stands (ISO/IEC 14496-12), and the boxes within it where its type holds others. */
export interface Mp4Box {
  /** Four characters; none for fewer bytes than a box has, which stand behind the last one. */
  type: string
  at: number
  body: number
  end: number
  inside: Mp4Box[]
}

const HOLDS_OTHERS = new Set(['moov', 'trak', 'mdia', 'minf', 'stbl', 'edts', 'dinf', 'mvex', 'moof', 'traf', 'mfra'])
const HEAD_BYTES = 8
/** A quarter of an hour in fragments of a second has some ten thousand. */
const MOST_BOXES = 20_000
/** The deepest that the standard has is five. */
const MOST_DEPTH = 12

/** The boxes of a file in order, or null: one that does not fit into what it stands in, too many, or too deep within each other. */
export const readBoxes = (bytes: Uint8Array): Mp4Box[] | null => readBoxesIn(bytes, 0, bytes.byteLength)

/** The boxes of a part of a file. */
export function readBoxesIn(bytes: Uint8Array, from: number, to: number): Mp4Box[] | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  let many = 0
  const read = (first: number, last: number, depth: number): Mp4Box[] | null => {
    if (depth > MOST_DEPTH) return null
    const boxes: Mp4Box[] = []
    for (let at = first; at < last; ) {
      if (++many > MOST_BOXES) return null
      if (at + HEAD_BYTES > last) {
        boxes.push({ type: '', at, body: at, end: last, inside: [] })
        break
      }
      const type = String.fromCharCode(view.getUint8(at + 4), view.getUint8(at + 5), view.getUint8(at + 6), view.getUint8(at + 7))
      const { head, size } = sizeAt(view, at, last)
      const [body, end] = [at + head, at + size]
      if (size < head || end > last) return null
      const inside = HOLDS_OTHERS.has(type) ? read(body, end, depth + 1) : []
      if (!inside) return null
      boxes.push({ type, at, body, end, inside })
      at = end
    }
    return boxes
  }
  return read(from, to, 1)
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
