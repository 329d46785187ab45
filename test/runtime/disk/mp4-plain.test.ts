import { describe, expect, test } from 'vitest'
import { soundAndPictureOf } from '#runtime/disk/mp4-plain.rules'
import { makeBox, makeMp4 } from '#test/make/sound'

const plainOf = (file: Buffer) => {
  const plain = soundAndPictureOf(file)
  return plain && Buffer.from(plain)
}

/** A track of a picture, described in these bytes. */
const pictureOf = (description: Buffer) => {
  const stbl = makeBox('stbl', makeBox('stsd', Buffer.from('\0\0\0\0\0\0\0\x01'), description))
  return makeBox('trak', makeBox('mdia', makeBox('hdlr', Buffer.alloc(8), 'vide', Buffer.alloc(12)), makeBox('minf', stbl)))
}

describe('an MP4 file', () => {
  test('keeps sound and picture where they stood, and nothing else of what is in it', () => {
    const file = makeMp4()
    const plain = plainOf(file)
    expect(plain?.length).toBe(file.length)
    // The nine corners of before, among samples that no track names, and in each of two tracks a handler, a place of data and a box
    // in the description; in the picture's the name of a compressor.
    expect(file.toString('latin1').split('+51.12')).toHaveLength(18)
    expect(plain?.includes('+51.12')).toBe(false)
    expect(plain?.includes('camm')).toBe(false)
    expect(plain?.indexOf('picture and sound')).toBe(file.indexOf('picture and sound'))
    expect(['avc1', 'avcC', 'how to decode', 'url ', 'vide'].map((words) => plain?.includes(words))).toEqual([true, true, true, true, true])
    expect(plain?.includes('nobody')).toBe(false)
    // What has been made plain is so already.
    expect(plain && plainOf(plain)?.equals(plain)).toBe(true)
  })

  test('keeps sound of samples that are all of one size, however many they are', () => {
    const many = 1_000_000
    const numbers = (...all: readonly number[]) => Buffer.concat(all.map((one) => Buffer.from(Uint32Array.of(one).buffer).swap32()))
    const start = Buffer.concat([makeBox('ftyp', 'M4A ', Buffer.alloc(4), 'M4A '), makeBox('mdat', 'S'.repeat(2 * many), 'place')])
    const samples = start.length - 2 * many - 'place'.length
    const description = makeBox('stsd', numbers(0, 1), makeBox('sowt', Buffer.alloc(28)))
    const tables = [description, makeBox('stsc', numbers(0, 1, 1, many, 1)), makeBox('stsz', numbers(0, 2, many))]
    const stbl = makeBox('stbl', ...tables, makeBox('stco', numbers(0, 1, samples)))
    const track = makeBox('trak', makeBox('mdia', makeBox('hdlr', Buffer.alloc(8), 'soun', Buffer.alloc(12)), makeBox('minf', stbl)))
    const plain = plainOf(Buffer.concat([start, makeBox('moov', track)]))
    expect(plain?.subarray(samples, samples + 2 * many).equals(Buffer.alloc(2 * many, 'S'))).toBe(true)
    expect(plain?.includes('place')).toBe(false)
  })

  test('does not get back what was emptied by calling it sound', () => {
    const file = makeMp4()
    // The picture's one chunk begins where the words of a box outside the media data stand.
    const [chunks, words] = [file.indexOf('stco') + 12, file.indexOf('skip') + 4]
    file.writeUInt32BE(words, chunks)
    expect(plainOf(file)?.includes('+51.12')).toBe(false)
  })

  test('of fragments keeps them, without what stands between them or in them', () => {
    const fragment = [makeBox('moof', makeBox('traf', makeBox('trun', 'runs'), makeBox('uuid', 'place'))), makeBox('mdat', 'sound')]
    const plain = plainOf(Buffer.concat([makeBox('ftyp', 'isom'), makeBox('moov', makeBox('mvhd')), makeBox('emsg', 'place'), ...fragment]))
    expect(['runs', 'sound', 'place'].map((words) => plain?.includes(words))).toEqual([true, true, false])
  })

  test.each([
    ['of fragments has a track of something else', Buffer.concat([makeBox('moof'), makeMp4()])],
    ['has many tracks of the same notes', makeMp4('isom', 'avc1', 600, 50)],
    ['says that notes stand behind its end', makeMp4('isom', 'avc1', 1_000)],
    ['describes a picture in too few words', Buffer.concat([makeBox('moov', pictureOf(makeBox('avc1', 'short')))])],
    ['says that a description is longer than it is', Buffer.concat([makeBox('moov', pictureOf(Buffer.from('\0\0\x01\0avc1')))])],
  ])('that %s is not told apart', (_name, file) => expect(plainOf(file)).toBeNull())
})
