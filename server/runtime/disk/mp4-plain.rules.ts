import { type Mp4Box, readBoxes } from './mp4-boxes.rules'
import { FREE, takeWordsOut } from './mp4-words.rules'

/** What a player reads of a film or its fragments: everything else is where cameras and programs write what they like. */
const PLAYED = new Set([
  ...['ftyp', 'styp', 'mdat', 'sidx', 'ssix', 'pdin', 'moov', 'mvhd', 'iods', 'mvex', 'mehd', 'trex', 'leva', 'trep'],
  ...['trak', 'tkhd', 'tref', 'edts', 'elst', 'mdia', 'mdhd', 'hdlr', 'elng', 'minf', 'vmhd', 'smhd', 'dinf', 'dref'],
  ...['stbl', 'stsd', 'stts', 'ctts', 'cslg', 'stss', 'stsh', 'stsc', 'stsz', 'stz2', 'stco', 'co64', 'stdp', 'padb'],
  ...['sdtp', 'sbgp', 'sgpd', 'subs', 'saiz', 'saio'],
  ...['moof', 'mfhd', 'traf', 'tfhd', 'tfdt', 'trun', 'mfra', 'tfra', 'mfro'],
])
/** A track that notes its place two hundred times a second, for as long as fits into the largest recording. */
const MOST_SAMPLES = 200_000

/**
 * An MP4 file of sound and picture alone: a box that no player reads, a track of anything else with what it notes, and all media
 * data that no sample of sound or picture is, are made empty ones of the same length, so that nothing else moves. Of a file in
 * fragments the media data stays whole. Null where the file is not built so that this could be said of it.
 */
export function soundAndPictureOf(file: Uint8Array): Uint8Array | null {
  const boxes = readBoxes(file)
  if (!boxes) return null
  const plain = new Uint8Array(file)
  const isInFragments = boxes.some(({ type }) => type === 'moof')
  const [played, noted, data]: [Part[], Part[], Mp4Box[]] = [[], [], []]
  const [left, leftPlayed] = [allOf(file), allOf(file)]
  const walk = (found: readonly Mp4Box[], kind: string | null): boolean =>
    found.every((box) => {
      const kindHere = box.type === 'trak' ? kindOf(plain, box) : kind
      const isOther = box.type === 'trak' && kindHere !== 'vide' && kindHere !== 'soun'
      if (box.type === 'trak' && !isInFragments) {
        const parts = samplesOf(plain, box, isOther ? left : leftPlayed)
        if (!parts) return false
        for (const part of parts) (isOther ? noted : played).push(part)
      }
      if (isOther && isInFragments) return false
      if (!isOther && PLAYED.has(box.type)) {
        if (box.type === 'mdat') data.push(box)
        return takeWordsOut(plain, box, kindHere === 'vide') && walk(box.inside, kindHere)
      }
      if (box.type !== '') plain.set(FREE, box.at + 4)
      plain.fill(0, box.body, box.end)
      return true
    })
  if (!walk(boxes, null)) return null
  if (!isInFragments) {
    const media = new Uint8Array(file.byteLength)
    for (const [from, to] of played) media.set(file.subarray(from, to), from)
    for (const { body, end } of data) plain.set(media.subarray(body, end), body)
  }
  for (const [from, to] of noted) plain.fill(0, from, to)
  return plain
}

type Part = [from: number, to: number]

/** All samples of the tracks of a file, as many bytes as it has, and so many. */
const allOf = ({ byteLength }: Uint8Array) => ({ bytes: byteLength, samples: MOST_SAMPLES })

const inside = ({ inside: boxes }: Mp4Box, ...types: readonly string[]): Mp4Box | undefined => {
  const [type, ...more] = types
  const box = boxes.find((one) => one.type === type)
  return box && more.length > 0 ? inside(box, ...more) : box
}

/** "vide" or "soun", or what else a track says that it is of. */
function kindOf(bytes: Uint8Array, track: Mp4Box): string {
  const handler = inside(track, 'mdia', 'hdlr')
  if (!handler || handler.body + 12 > handler.end) return ''
  return String.fromCharCode(...bytes.subarray(handler.body + 8, handler.body + 12))
}

/**
 * Where the samples of a track stand, by its tables of chunks and sizes; null where these do not go together, or where all tracks
 * together would have more than is `left` for them.
 */
function samplesOf(bytes: Uint8Array, track: Mp4Box, left: { bytes: number; samples: number }): Part[] | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  const table = (type: string, head: number, width: number) => {
    const box = inside(track, 'mdia', 'minf', 'stbl', type)
    if (!box || box.body + head > box.end) return null
    const many = view.getUint32(box.body + head - 4)
    return { many, at: (row: number) => box.body + head + row * width, fits: box.body + head + many * width <= box.end, body: box.body }
  }
  const [short, long] = [table('stco', 8, 4), table('co64', 8, 8)]
  const chunks = short ?? long
  const sizes = table('stsz', 12, 4)
  // A track that says of nowhere where it stands has nothing there.
  if (!chunks || chunks.many === 0 || sizes?.many === 0) return []
  const runs = table('stsc', 8, 12)
  if (!sizes || !runs?.fits || !chunks.fits) return null
  const same = view.getUint32(sizes.body + 4)
  // Samples of one size, such as those of plain sound, are counted and not read one by one.
  left.samples -= same === 0 ? Math.max(sizes.many, chunks.many) : chunks.many
  if (left.samples < 0) return null
  if (same === 0 && !sizes.fits) return null
  const found: Part[] = []
  let [sample, run] = [0, 0]
  for (let chunk = 0; chunk < chunks.many && sample < sizes.many; chunk++) {
    while (run + 1 < runs.many && view.getUint32(runs.at(run + 1)) <= chunk + 1) run++
    if (runs.many === 0) return null
    const from = short ? view.getUint32(chunks.at(chunk)) : Number(view.getBigUint64(chunks.at(chunk)))
    let to = from
    const next = Math.min(sizes.many, sample + view.getUint32(runs.at(run) + 4))
    if (same > 0) to += same * (next - sample)
    else for (let one = sample; one < next; one++) to += view.getUint32(sizes.at(one))
    sample = next
    left.bytes -= to - from
    if (to > bytes.byteLength || left.bytes < 0) return null
    found.push([from, to])
  }
  return sample === sizes.many ? found : null
}
