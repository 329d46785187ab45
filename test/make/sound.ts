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

/** As much of an MP4 file as tells what it is, with the place at which a phone says it was recorded. */
export const makeMp4 = (brand = 'isom', codec = 'avc1'): Buffer =>
  Buffer.concat([
    makeBox('ftyp', brand, Buffer.alloc(4), brand),
    makeBox('moov', makeBox('trak', makeBox('stsd', codec)), makeBox('udta', makeBox('\u00a9xyz', '+51.1234-001.2345/'))),
    makeBox('mdat', 'picture and sound'),
  ])
