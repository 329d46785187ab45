import { afterEach, describe, expect, it } from 'vitest'
import { firstDifference } from '#bench/certificates/difference.rules'
import { releaseWords } from '#bench/certificates/sentences.rules'
import { cellsOf, feedCells } from '#bench/designs/written.rules'
import { loadUnit } from '#bench/units/unit-state.service'
import { bringUpUnit, makeBench } from '#test/make/bench'
import { makeTestedUnit } from '#test/make/certified-unit'
import { refusedAt } from '#test/make/refusal'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
afterEach(() => stage.close())

describe('who released a hold point', () => {
  it('is named on the certificate, with whether they took its reading as well', async () => {
    stage = openStage()
    const { tag, serial } = await makeTestedUnit(stage)
    const { payload } = await stage.visitor().certificates.show({ serial })
    const holds = payload.results.filter(({ isHold }) => isHold)
    expect(holds.length).toBeGreaterThan(2)
    for (const { released } of holds) expect(released).toMatchObject({ by: expect.any(String), hadRead: true })
    expect(payload.results.filter(({ isHold, released }) => !isHold && released)).toEqual([])
    const { record } = await stage.visitor().record.ofUnit({ tag })
    expect(record.results.find(({ isHold }) => isHold)?.released).toEqual(holds[0]?.released)
    const told = {
      ...payload,
      results: payload.results.map((one) => (one === holds[0] ? { ...one, released: null } : one)),
    }
    expect(firstDifference(payload, told)?.words).toContain('who released it')
  })

  it('is said in words', () => {
    expect(releaseWords({ by: 'Ada Quill', hadRead: true })).toBe('released by Ada Quill, who had taken the reading as well.')
    expect(releaseWords({ by: 'Ada Quill', hadRead: false })).toBe('released by Ada Quill, who had not taken the reading.')
  })

  it('is somebody else than the reader where the design asks for four eyes', async () => {
    stage = openStage()
    const { designId, tags } = await makeBench(stage)
    const [tag = ''] = tags
    const maker = await stage.as('maker')
    const volunteer = await stage.as('volunteer')
    const { checks, blocks, feeds, decisionRule, quirks, cautions } = await maker.designs.get({ id: designId })
    const hold = checks.find(({ isHold }) => isHold)
    if (!hold) throw new Error('no hold point')
    const checklist = checks.map((check) => cellsOf({ ...check, fourEyes: check.isHold }))
    const written = {
      fromDesignId: designId,
      revision: 'four eyes',
      decisionRule,
      quirks,
      cautions,
      checklist,
      feeds: feedCells(blocks, feeds),
    }
    const revised = await maker.designs.revise(written)
    await maker.bringup.move({ key: 'four-eyes-move', tag, designId: revised.designId })
    await bringUpUnit(stage, tag, hold.key)
    const hand = { tag, seen: tag, check: hold.key }
    const meter = (await maker.bringup.instruments()).find(({ name }) => name.startsWith('Bench meter'))
    await maker.bringup.takeReading({ key: 'four-eyes-read', ...hand, entry: String(hold.nominal ?? 'yes'), instrumentId: meter?.id })
    const own = await refusedAt(maker.bringup.release({ key: 'four-eyes-own', ...hand, name: 'Ada Quill' }))
    expect(own.name).toBe(`${hold.key} asks for four eyes: you took its reading, so somebody else has to release it.`)
    await volunteer.bringup.release({ key: 'four-eyes-other', ...hand, name: 'Maren Holt' })
    expect(loadUnit(stage.sight(), tag).standing.states.get(hold.key)?.releasedBy).toBe('Maren Holt')
  })
})
