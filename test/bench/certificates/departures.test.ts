import { afterAll, beforeAll, expect, test } from 'vitest'
import { makeTestedUnit } from '#test/make/certified-unit'
import { openStage, type Stage } from '#test/stage'

let stage: Stage
let tag: string
beforeAll(async () => {
  stage = openStage()
  tag = (await makeTestedUnit(stage)).tag
}, 60_000)
afterAll(() => stage.close())

test('a note stays at the bench; a departure is shown before it is signed, and signed', async () => {
  const maker = await stage.as('maker')
  const { checks } = await maker.bringup.unit({ tag })
  const check = checks.find(({ kind }) => kind === 'yesno')?.key ?? ''
  const words = { note: 'my hands shook', departure: 'Looked at by daylight, not under the lamp.' }
  await maker.bringup.takeReading({ key: 'a-departure-key', tag, seen: tag, check, entry: 'yes', ...words })
  await maker.bringup.release({ key: 'a-departure-release', tag, seen: tag, check, name: 'Ada Quill' })
  const { departures } = await maker.certificates.readiness({ tag })
  expect(departures).toEqual([`${check}: Looked at by daylight, not under the lamp.`])
  // The bench's own page can issue it as well, and shows them there.
  expect(await maker.bringup.unit({ tag })).toMatchObject({ missing: [], departures })
  const { serial } = await maker.certificates.issue({ tag })
  const { payload: document } = await stage.visitor().certificates.show({ serial })
  expect(document.deviations).toEqual(departures)
  expect(JSON.stringify(document)).not.toContain('my hands shook')
})
