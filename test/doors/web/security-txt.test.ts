import { afterEach, beforeEach, expect, test } from 'vitest'
import { DAY, toIso } from '#kernel/instant'
import { readConfig } from '#runtime/settings/config'
import { openStage, type Stage } from '#test/stage'
import { openStageDoor } from './open-door'

let stage: Stage
beforeEach(() => {
  stage = openStage()
})
afterEach(() => stage.close())

test('RFC 9116: whom to tell, until when that holds, in what language, where it stands and what is promised', async () => {
  const door = await openStageDoor(stage, { securityContact: 'mailto:safety@bench.example' })
  const answer = await fetch(`${door.url}/.well-known/security.txt`)
  expect(answer.headers.get('content-type')).toBe('text/plain; charset=utf-8')
  const lines = (await answer.text()).split('\r\n')
  expect(lines.pop()).toBe('')
  expect(lines).toEqual([
    'Contact: mailto:safety@bench.example',
    `Expires: ${toIso(stage.clock.now() + 180 * DAY)}`,
    'Preferred-Languages: en',
    'Canonical: https://bench.example/.well-known/security.txt',
    'Policy: https://bench.example/security.md',
  ])
  // However long the house stays open, it is never out of date.
  stage.clock.pass(400 * DAY)
  const later = await (await fetch(`${door.url}/.well-known/security.txt`)).text()
  expect(Date.parse(/Expires: (\S+)/.exec(later)?.[1] ?? '')).toBeGreaterThan(stage.clock.now())
  door.close()
})

test('a house that was told nobody names nobody', async () => {
  const door = await openStageDoor(stage)
  expect((await fetch(`${door.url}/.well-known/security.txt`)).status).toBe(404)
  door.close()
})

test('the setting takes an address to write to, and no line break', () => {
  const read = (SECURITY_CONTACT: string) => readConfig({ NODE_ENV: 'test', SECURITY_CONTACT }).securityContact
  expect(read('mailto:safety@bench.example')).toBe('mailto:safety@bench.example')
  expect(read('https://bench.example/contact')).toBe('https://bench.example/contact')
  for (const wrong of ['safety@bench.example', 'javascript:alert(1)', 'http://bench.example', 'https://a.example/\nExpires: never'])
    expect(() => read(wrong), wrong).toThrow('SECURITY_CONTACT')
})
