import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { violationsIn } from '#doors/web/reports'
import { openStage, type Stage } from '#test/stage'
import { openStageDoor } from './open-door'

let stage: Stage
let door: Awaited<ReturnType<typeof openStageDoor>>
beforeEach(async () => {
  stage = openStage()
  door = await openStageDoor(stage, { trustedProxy: 'x-forwarded-for' })
})
afterEach(() => {
  door.close()
  stage.close()
})

const OLD = {
  'csp-report': {
    'document-uri': 'https://bench.example/lots/7/history?secret=1#more',
    'violated-directive': 'script-src-elem',
    'blocked-uri': 'https://evil.example/x.js?who=ada@workshop.example',
  },
}
const NEW = [
  { type: 'deprecation', body: {} },
  { type: 'csp-violation', body: { documentURL: 'https://bench.example/me', effectiveDirective: 'script-src-attr', blockedURL: 'inline' } },
]

test('both forms are read, and of addresses no more than the beginning', () => {
  expect(violationsIn(JSON.stringify(OLD))).toEqual([{ directive: 'script-src-elem', blocked: 'https://evil.example', page: '/lots/7' }])
  expect(violationsIn(JSON.stringify(NEW))).toEqual([{ directive: 'script-src-attr', blocked: 'inline', page: '/me' }])
})

test.each(['', '{', 'null', '[]', '7', '[null,{"type":"csp-violation"}]', '{"csp-report":null}', '{"__proto__":{"csp-report":{}}}'])(
  '%s is no report',
  (text) => {
    expect(violationsIn(text)).toEqual([])
  },
)

test('what is written into one is no line of the log, and of many in one body few are read', () => {
  const body = { effectiveDirective: 'x\n{"level":60}', blockedURL: `data:${'a'.repeat(9000)}`, documentURL: 'https://a/\u202e/b' }
  for (const told of violationsIn(JSON.stringify(Array.from({ length: 900 }, () => ({ type: 'csp-violation', body }))))) {
    expect(told).toEqual({ directive: 'x', blocked: '', page: '/%E2%80%AE/b' })
  }
  expect(violationsIn(JSON.stringify(Array.from({ length: 900 }, () => ({ type: 'csp-violation', body }))))).toHaveLength(5)
})

test('one is logged without where it came from; of one origin only so many are', async () => {
  const logged = vi.spyOn(stage.house.log, 'warn')
  const send = (address: string) =>
    fetch(`${door.url}/api/reports`, {
      method: 'POST',
      headers: { 'content-type': 'application/csp-report', 'x-forwarded-for': address },
      body: JSON.stringify(OLD),
    })
  const statuses: number[] = []
  for (let n = 0; n < 12; n++) statuses.push((await send('192.0.2.44')).status)
  expect(statuses.filter((status) => status === 204)).toHaveLength(10)
  expect(statuses.at(-1)).toBe(429)
  expect(logged).toHaveBeenCalledTimes(10)
  expect(JSON.stringify(logged.mock.calls)).not.toMatch(/192\.0\.2|ada@|secret/)
  // And of all origins together.
  for (let n = 0; n < 60; n++) await send(`2001:db8:${n}::1`)
  expect(logged).toHaveBeenCalledTimes(60)
})
