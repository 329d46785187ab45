/** Half a second of a tone as a WAV file (RIFF, PCM of 16 bits, 8000 samples a second). */
export function makeWav(hertz = 600): Buffer {
  const samples = Buffer.alloc(8000)
  for (let index = 0; index < 4000; index++)
    samples.writeInt16LE(Math.round(8000 * Math.sin((2 * Math.PI * hertz * index) / 8000)), 2 * index)
  const head = Buffer.alloc(44)
  head.write('RIFF', 0)
  head.writeUInt32LE(36 + samples.length, 4)
  head.write('WAVEfmt ', 8)
  head.writeUInt32LE(16, 16)
  head.writeUInt16LE(1, 20)
  head.writeUInt16LE(1, 22)
  head.writeUInt32LE(8000, 24)
  head.writeUInt32LE(16_000, 28)
  head.writeUInt16LE(2, 32)
  head.writeUInt16LE(16, 34)
  head.write('data', 36)
  head.writeUInt32LE(samples.length, 40)
  return Buffer.concat([head, samples])
}

/** A box of an MP4 file (ISO/IEC 14496-12). */
export function makeBox(type: string, ...parts: readonly (Buffer | string)[]): Buffer {
  const body = Buffer.concat(parts.map((part) => Buffer.from(part)))
  const head = Buffer.alloc(8)
  head.writeUInt32BE(8 + body.length, 0)
  head.write(type, 4, 'latin1')
  return Buffer.concat([head, body])
}

const PLACE = '+51.1234-001.2345/'
const SOUND_AND_PICTURE = 'picture and sound'
/** Stands among the samples, and is none of them. */
const UNNAMED = `nobody's sample ${PLACE}`

/** A track of one sample of so many bytes, which stands there in the file. */
const makeTrack = (handler: string, codec: string, at: number, bytes: number) => {
  const numbers = (...all: readonly number[]) =>
    Buffer.from(all.flatMap((one) => [one >>> 24, (one >>> 16) & 255, (one >>> 8) & 255, one & 255]))
  // ISO/IEC 14496-12, 12.1.3 and 12.2.3: a compressor's name stands 42 bytes into the description of a picture.
  const numbersOf = handler === 'vide' ? [Buffer.alloc(42), `${PLACE.padEnd(32, ' ')}`, Buffer.alloc(4)] : [Buffer.alloc(28)]
  const tables = [
    makeBox('stsd', numbers(0, 1), makeBox(codec, ...numbersOf, makeBox('avcC', 'how to decode'), makeBox('uuid', PLACE))),
    makeBox('stsc', numbers(0, 1, 1, 1, 1)),
    makeBox('stsz', numbers(0, 0, 1, bytes)),
    makeBox('stco', numbers(0, 1, at)),
  ]
  const words = makeBox('udta', PLACE)
  const mdia = makeBox(
    'mdia',
    makeBox('hdlr', Buffer.alloc(8), handler, Buffer.alloc(12), PLACE),
    makeBox('minf', makeBox('dinf', makeBox('dref', numbers(0, 1), makeBox('url ', numbers(1), PLACE))), makeBox('stbl', ...tables), words),
    words,
  )
  return makeBox('trak', mdia)
}

/** As much of an MP4 file as tells what it is, with the place in every corner in which cameras say where they recorded. */
export function makeMp4(brand = 'isom', codec = 'avc1', notedBytes = PLACE.length, noting = 1): Buffer {
  const start = Buffer.concat([
    makeBox('ftyp', brand, Buffer.alloc(4), brand),
    makeBox('skip', PLACE),
    makeBox('mdat', SOUND_AND_PICTURE, PLACE, UNNAMED),
  ])
  const picture = start.length - UNNAMED.length - PLACE.length - SOUND_AND_PICTURE.length
  return Buffer.concat([
    start,
    makeBox(
      'moov',
      makeTrack('vide', codec, picture, SOUND_AND_PICTURE.length),
      ...Array.from({ length: noting }, () => makeTrack('meta', 'camm', picture + SOUND_AND_PICTURE.length, notedBytes)),
      makeBox('udta', makeBox('\u00a9xyz', PLACE)),
    ),
    makeBox('plac', PLACE),
    Buffer.from('+51.12'),
  ])
}
