import { describe, expect, it } from 'vitest'
import { type Known, type Said, whyNotSo } from '#stock/shelf/programmed.rules'

const RIGHT = 'a'.repeat(64)
const OTHER = 'b'.repeat(64)
const known = (over: Partial<Known> = {}): Known => ({
  tag: 'P-0001-H',
  verdict: 'not inspected',
  part: { programmed: true, imageSha256: RIGHT, idcode: '0x29502093' },
  ...over,
})
const said = (over: Partial<Said>): Said => ({ verdict: 'good and programmed', imageSha256: RIGHT, idcode: '', confirmMix: false, ...over })

describe('a blank and a programmed piece are not taken for each other', () => {
  it('the right image read back is a programmed piece', () => expect(whyNotSo(known(), said({ idcode: '0x29502093' }))).toBeNull())

  it.each([
    ['blank, and yet an image', said({ verdict: 'good and blank' }), 'imageSha256', 'A blank piece holds no image'],
    ['another image', said({ imageSha256: OTHER }), 'imageSha256', 'another image than this part must hold'],
    ['another part answers', said({ idcode: '0x09602093' }), 'idcode', 'another part of the same maker'],
    ['nothing answers', said({ idcode: '0xffffffff' }), 'idcode', 'nothing answered'],
  ])('%s is refused at its field', (_name, what, field, words) => {
    expect(whyNotSo(known(), what)).toMatchObject({ field, words: expect.stringContaining(words) })
  })

  it('a piece that was read as programmed is blank only once somebody says that it was erased', () => {
    const before = known({ verdict: 'good and programmed' })
    const blank = said({ verdict: 'good and blank', imageSha256: '' })
    expect(whyNotSo(before, blank)).toMatchObject({ field: 'confirmMix', words: expect.stringContaining('compare the tag') })
    expect(whyNotSo(before, { ...blank, confirmMix: true })).toBeNull()
  })

  it('what is not good may be said of any piece', () => {
    expect(whyNotSo(known(), said({ verdict: 'unknown image', imageSha256: OTHER }))).toBeNull()
    expect(whyNotSo(known(), said({ verdict: 'wrong part', imageSha256: '', idcode: '0x09602093' }))).toBeNull()
  })
})
