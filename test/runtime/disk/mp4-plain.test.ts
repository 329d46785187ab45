import { describe, expect, test } from 'vitest'
import { soundAndPictureOf } from '#runtime/disk/mp4-plain.rules'
import { makeBox, makeMp4 } from '#test/make/sound'

const plainOf = (file: Buffer) => {
  const plain = soundAndPictureOf(file)
  return plain && Buffer.from(plain)
}

describe('an MP4 file', () => {
  test('keeps sound and picture where they stood, and nothing else of what is in it', () => {
    const file = makeMp4()
    const plain = plainOf(file)
    expect(plain?.length).toBe(file.length)
    expect(file.toString('latin1').split('+51.12')).toHaveLength(10)
    expect(plain?.includes('+51.12')).toBe(false)
    expect(plain?.includes('camm')).toBe(false)
    expect(plain?.indexOf('picture and sound')).toBe(file.indexOf('picture and sound'))
    expect(plain?.includes('avc1')).toBe(true)
    // What has been made plain is so already.
    expect(plain && plainOf(plain)?.equals(plain)).toBe(true)
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
  ])('that %s is not told apart', (_name, file) => expect(plainOf(file)).toBeNull())
})
