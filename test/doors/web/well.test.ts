import { afterEach, beforeEach, expect, test } from 'vitest'
import type { Finding, Watched } from '#runtime/vitals/vital'
import { readExposition } from '#test/make/exposition'
import { openStage, type Stage } from '#test/stage'
import { openStageDoor } from './open-door'

const KEY = 'a-key-of-the-figures-0123456789'

let stage: Stage
let door: Awaited<ReturnType<typeof openStageDoor>>
let found: Finding
beforeEach(async () => {
  stage = openStage()
  door = await openStageDoor(stage, { metricsKey: KEY })
  found = { value: 12345, standing: 'good', words: 'Twelve of /srv/house for Ada.', toDo: null }
})
afterEach(() => {
  door.close()
  stage.close()
})

const mail = (wish: Partial<Watched> = {}): Watched => ({
  key: 'something',
  name: 'Something',
  unit: 'seconds',
  help: 'How long something takes.',
  whenNotReady: 'Something is not there at present.',
  look: () => found,
  ...wish,
})

const read = async (path: string, headers: Record<string, string> = {}) => {
  const answer = await fetch(`${door.url}${path}`, { headers })
  return {
    status: answer.status,
    type: answer.headers.get('content-type'),
    cache: answer.headers.get('cache-control'),
    text: await answer.text(),
  }
}

test('health tells how long ago things happened', async () => {
  stage.house.startTicking()
  await stage.command(() => {})
  stage.house.vitals.look()
  const { status, text } = await read('/api/health')
  expect(status).toBe(200)
  const { ok, ages } = JSON.parse(text)
  expect(ok).toBe(true)
  expect(ages).toEqual({ write: 0, tick: 0, letter: null, copy: null, copyElsewhere: null })
})

test('health tells how old the copy elsewhere is and whether it is kept, and nothing of where it lies', async () => {
  stage.house.vitals.watch(mail({ key: 'elsewhere-age' }))
  const health = async () => JSON.parse((await read('/api/health')).text)
  expect(await health()).toMatchObject({ ok: true, ages: { copyElsewhere: 12345 }, copyElsewhere: null })
  found = { value: 99, standing: 'bad', words: '/srv/house is not there.', toDo: null }
  stage.house.vitals.look()
  const failing = await health()
  expect(failing).toMatchObject({ ok: true, ages: { copyElsewhere: 99 }, copyElsewhere: expect.stringContaining('is not kept') })
  expect(JSON.stringify(failing)).not.toContain('/srv/house')
})

test('a house is ready until something is bad that it is there for, and says which without a figure or a name', async () => {
  stage.house.vitals.watch(mail())
  expect(await read('/api/ready')).toMatchObject({ status: 200, cache: 'no-store', text: '{"ready":true,"reasons":[]}' })
  found = { ...found, standing: 'look' }
  stage.house.vitals.look()
  expect((await read('/api/ready')).status).toBe(200)
  found = { ...found, standing: 'bad' }
  stage.house.vitals.look()
  const { status, text } = await read('/api/ready')
  expect(status).toBe(503)
  expect(JSON.parse(text)).toEqual({ ready: false, reasons: ['Something is not there at present.'] })
  // Alive it is all the same.
  expect((await read('/api/health')).status).toBe(200)
})

test('what is bad and keeps nobody from anything leaves a house ready', async () => {
  stage.house.vitals.watch(mail({ whenNotReady: undefined }))
  found = { ...found, standing: 'bad' }
  stage.house.vitals.look()
  expect((await read('/api/ready')).status).toBe(200)
})

test('no reason that a stranger can read holds a figure', async () => {
  for (const { whenNotReady } of stage.house.vitals.list()) expect(whenNotReady ?? '').toMatch(/^[A-Za-z ,.]*$/)
})

test('figures are for whoever has the key', async () => {
  const { status, type, cache, text } = await read('/metrics', { authorization: `Bearer ${KEY}` })
  expect([status, type, cache]).toEqual([200, 'application/openmetrics-text; version=1.0.0; charset=utf-8', 'no-store'])
  expect(readExposition(text).has('tagstrip_standing')).toBe(true)
})

test.each([
  ['nothing', {}],
  ['another key', { authorization: `Bearer ${KEY.slice(0, -1)}` }],
  ['a longer one', { authorization: `Bearer ${KEY}0` }],
  ['no key', { authorization: 'Bearer ' }],
  ['another way', { authorization: `Basic ${KEY}` }],
])('whoever says %s is told how to ask, and no figure', async (_case, headers: Record<string, string>) => {
  const { status, text } = await read('/metrics', headers)
  expect(status).toBe(401)
  expect(text).not.toContain('tagstrip_')
})

test('without a key in the settings there are no figures for anybody', async () => {
  const other = await openStageDoor(stage)
  const { status } = await fetch(`${other.url}/metrics`, { headers: { authorization: 'Bearer undefined' } })
  other.close()
  expect(status).toBe(404)
})
