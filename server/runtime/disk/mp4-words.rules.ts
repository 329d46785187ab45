import { type Mp4Box, readBoxesIn } from './mp4-boxes.rules'

/** What a decoder reads in the description of its track, beside the numbers that stand first there. */
const DECODED = new Set([
  ...['avcC', 'av1C', 'vpcC', 'mp4v', 'hvcC', 'esds', 'dOps', 'dfLa', 'alac', 'dac3', 'dec3', 'wave', 'chan', 'chnl', 'srat'],
  ...['pasp', 'colr', 'clap', 'fiel', 'btrt', 'gama', 'mdcv', 'clli', 'SmDm', 'CoLL'],
])
/** Version and flags, and how many follow. */
const HEAD_BYTES = 8

/**
 * Takes the words out of boxes that a player needs: the name of what made a track, where its data would be, the name of a
 * compressor, and whatever stands in the description of a track that no decoder reads. False where it is not built as it should be.
 */
export function takeWordsOut(plain: Uint8Array, box: Mp4Box, isPicture: boolean): boolean {
  if (box.type === 'hdlr') {
    if (box.body + 12 > box.end) return false
    plain.fill(0, box.body + 12, box.end)
    return true
  }
  if (box.type !== 'stsd' && box.type !== 'dref') return true
  const entries = box.body + HEAD_BYTES <= box.end ? readBoxesIn(plain, box.body + HEAD_BYTES, box.end) : null
  if (!entries) return false
  return entries.every((entry) => {
    if (box.type === 'stsd' && entry.type !== '') return describesPlainly(plain, entry, isPicture, plain[box.body] === 1)
    // Of where data would be, the flags alone say that it is here.
    plain.fill(0, entry.type === '' ? entry.at : Math.min(entry.body + 4, entry.end), entry.end)
    return true
  })
}

/** ISO/IEC 14496-12, 12.1.3 and 12.2.3; sound that was written as for QuickTime has more numbers before its boxes. */
function describesPlainly(plain: Uint8Array, entry: Mp4Box, isPicture: boolean, isNewer: boolean): boolean {
  const soundVersion = isNewer ? 0 : (plain[entry.body + 9] ?? 0)
  const boxesAt = entry.body + (isPicture ? 78 : (([28, 44, 64] as const)[soundVersion] ?? 28))
  if (boxesAt > entry.end) return false
  if (isPicture) {
    plain.fill(0, entry.body + 8, entry.body + 24)
    plain.fill(0, entry.body + 42, entry.body + 74)
  } else plain.fill(0, entry.body + 12, entry.body + 16)
  const boxes = readBoxesIn(plain, boxesAt, entry.end)
  if (!boxes) return false
  for (const { type, at, body, end } of boxes) {
    if (DECODED.has(type)) continue
    if (type !== '') plain.set(FREE, at + 4)
    plain.fill(0, body, end)
  }
  return true
}

export const FREE = new TextEncoder().encode('free')
