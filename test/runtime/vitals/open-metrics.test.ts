import { expect, it } from 'vitest'
import { mailWatched } from '#people/outbox/mail-watched'
import { writeFigures } from '#runtime/vitals/open-metrics'
import type { Vital } from '#runtime/vitals/vital'
import { readExposition } from '#test/make/exposition'
import { NOON, openStage } from '#test/stage'

const vital = (wish: Partial<Vital>): Vital => ({
  key: 'one',
  name: 'One',
  unit: 'seconds',
  help: 'The one.',
  limits: { lower: null, upper: null },
  value: 1,
  standing: 'good',
  words: 'All is well.',
  toDo: null,
  since: NOON,
  whenNotReady: null,
  ...wish,
})

it('figures read by the rules of OpenMetrics as they were measured', async () => {
  const { type, body } = await writeFigures([
    vital({ key: 'write-age', value: 0.25 }),
    vital({ key: 'disk-free', unit: 'bytes', value: 5e9, standing: 'look', help: 'A back\\slash, and\ntwo lines.' }),
    vital({ key: 'copy-age', value: null, standing: 'bad' }),
    vital({ key: 'open-files', unit: 'count', value: 12, also: [{ key: 'watchers', unit: 'count', help: 'Screens.', value: 3 }] }),
  ])
  expect(type).toBe('application/openmetrics-text; version=1.0.0; charset=utf-8')
  const families = readExposition(body)
  const values = Object.fromEntries([...families].map(([name, { samples }]) => [name, samples]))
  expect(values).toEqual({
    tagstrip_standing: [
      { labels: { vital: 'write-age' }, value: 0 },
      { labels: { vital: 'disk-free' }, value: 1 },
      { labels: { vital: 'copy-age' }, value: 2 },
      { labels: { vital: 'open-files' }, value: 0 },
    ],
    tagstrip_write_age_seconds: [{ labels: {}, value: 0.25 }],
    tagstrip_disk_free_bytes: [{ labels: {}, value: 5e9 }],
    tagstrip_open_files: [{ labels: {}, value: 12 }],
    tagstrip_watchers: [{ labels: {}, value: 3 }],
  })
  expect(families.get('tagstrip_disk_free_bytes')?.help).toBe('A back\\slash, and\ntwo lines.')
})

it('a house has at least a dozen figures, each with its type and a sentence', async () => {
  const stage = openStage()
  stage.house.startTicking()
  await stage.command(() => {})
  stage.house.vitals.watch(...mailWatched({ sight: stage.sight, postman: null, isDemo: false }))
  stage.house.vitals.look()
  const families = readExposition((await writeFigures(stage.house.vitals.list())).body)
  stage.close()
  expect(families.size).toBeGreaterThanOrEqual(12)
  for (const { type, help } of families.values()) {
    expect(type).toBe('gauge')
    expect(help).toMatch(/\.$/)
  }
})

it.each([
  ['without its end', 'a 1\n'],
  ['with something after its end', '# EOF\na 1\n'],
  ['with a metric that is said twice', '# TYPE a gauge\na 1\n# TYPE b gauge\nb 1\n# TYPE a gauge\na 2\n# EOF\n'],
  ['with the same sample twice', '# TYPE a gauge\na 1\na 2\n# EOF\n'],
  ['with a name that is none', '# TYPE 1a gauge\n1a 1\n# EOF\n'],
  ['with a value that is none', '# TYPE a gauge\na one\n# EOF\n'],
  ['with a blank line', '# TYPE a gauge\n\na 1\n# EOF\n'],
  ['with a sample of no family', '# TYPE a gauge\nb 1\n# EOF\n'],
])('the reader of the test itself refuses a text %s', (_case, text) => {
  expect(() => readExposition(text)).toThrow()
})
