import { afterEach, beforeEach, expect, it } from 'vitest'
import { recording } from '#db/schema/index'
import { readHistory } from '#sale/history/history.service'
import { makeOpenLot, makePreparedLot } from '#test/make/lot'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

const SHA = 'beef'.padEnd(64, '0')
const WORDS = { sha: SHA, caption: 'Tuning across the band', description: 'A steady tone, then Morse in noise.' }
const keep = () =>
  stage.command((turn) => void turn.db.insert(recording).values({ sha: SHA, kind: 'wav', bytes: 8044, at: turn.now }).run())

it('a recording stands on the page of its lot and in the terms that it opened with', async () => {
  const { number } = await makePreparedLot(stage)
  await keep()
  const maker = await stage.as('maker')
  await maker.lots.addRecording({ lot: number, ...WORDS })
  await maker.lots.publish({ lot: number })
  expect((await stage.visitor().lotPage.page({ lot: number })).recordings).toEqual([{ ...WORDS, kind: 'wav', bytes: 8044 }])
  await maker.bidding.open({ lot: number })
  const [opened] = readHistory(stage.sight(), number).leaves
  expect(opened).toMatchObject({ terms: { sale: { recordings: [{ sha256: SHA, caption: WORDS.caption }] } } })
  await expect(maker.lots.removeRecording({ lot: number, seq: 0 })).rejects.toThrow('terms were fixed')
})

it('terms of a lot without one are what they were before there were any', async () => {
  const { number } = await makeOpenLot(stage)
  const [opened] = readHistory(stage.sight(), number).leaves
  expect(opened?.kind === 'opened' && 'recordings' in opened.terms.sale).toBe(false)
})

it('one that never arrived is refused at its field, and so is a fifth', async () => {
  const { number } = await makePreparedLot(stage)
  const maker = await stage.as('maker')
  await expect(maker.lots.addRecording({ lot: number, ...WORDS })).rejects.toThrow('it has not arrived')
  await keep()
  for (let count = 0; count < 4; count++) await maker.lots.addRecording({ lot: number, ...WORDS })
  await expect(maker.lots.addRecording({ lot: number, ...WORDS })).rejects.toThrow('Four recordings are enough')
  await maker.lots.removeRecording({ lot: number, seq: 1 })
  expect((await maker.lots.recordings({ lot: number })).map(({ seq }) => seq)).toEqual([0, 2, 3])
  await expect(maker.lots.removeRecording({ lot: number, seq: 1 })).rejects.toThrow('gone already')
})
