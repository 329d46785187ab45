import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { pieceTag } from '#stock/shelf/piece.rules'
import { nearTags } from '#stock/shelf/tag.rules'
import { makeThreeBatches } from '#test/make/shelf'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

describe('a tag that is scanned or typed leads to its page', () => {
  test('a piece, a bag and the address on a label', async () => {
    const { volunteer, cap } = await makeThreeBatches(stage)
    const tag = pieceTag(1)
    expect((await volunteer.tags.find({ code: tag.toLowerCase().replaceAll('-', ' ') })).href).toBe(
      `/bench/pieces/${encodeURIComponent(tag)}`,
    )
    expect((await volunteer.tags.find({ code: `https://bench.example/bench/pieces/${tag}` })).tag).toBe(tag)
    expect((await volunteer.tags.find({ code: 'B-0001' })).href).toBe(`/bench/parts/${cap.id}#B-0001`)
  })

  test('a slip is told by the check character, with the tag that was meant', async () => {
    const { volunteer } = await makeThreeBatches(stage)
    const slip = pieceTag(1).replace('0001', '0010')
    await expect(volunteer.tags.find({ code: slip })).rejects.toThrow(`One slip away: ${pieceTag(1)}`)
    expect(nearTags(slip)).toContain(pieceTag(1))
    await expect(volunteer.tags.find({ code: pieceTag(77) })).rejects.toThrow(`There is no piece ${pieceTag(77)}`)
    await expect(volunteer.tags.find({ code: 'B-0001-X' })).rejects.toThrow('the last character does not fit')
    await expect(volunteer.tags.find({ code: '%E0%A4%A' })).rejects.toThrow('is not a tag')
  })
})
