import type { IncomingMessage } from 'node:http'
import { expect, test } from 'vitest'
import { leaveOut } from '#doors/web/page-headers'

const left = (headers: Record<string, string>) => {
  const request = { headers: { ...headers } } as unknown as IncomingMessage
  leaveOut(request)
  return request.headers
}

test('a range or a condition that cannot be met gives the whole, not a fault', () => {
  const conditions = {
    range: 'bytes=999999-',
    'if-match': '"x"',
    'if-unmodified-since': 'Mon, 01 Jan 2001 00:00:00 GMT',
    'if-range': '"x"',
  }
  expect(left({ ...conditions, 'if-none-match': '"y"', accept: '*/*' })).toEqual({ 'if-none-match': '"y"', accept: '*/*' })
})

test('what the pages ask for themselves stays; what only looks like it makes a whole page', () => {
  const tree = [
    '',
    { children: ['(public)', { children: ['lots', { children: [['number', '5', 'd'], { children: ['__PAGE__', {}, null, null] }] }] }] },
    null,
    null,
    true,
  ]
  const own = { rsc: '1', 'next-router-state-tree': encodeURIComponent(JSON.stringify(tree)), 'next-url': '/lots/5' }
  expect(left(own)).toEqual(own)
  for (const garbage of ['garbage', '%', '[]', '{}', '["",{"children":"x"}]', '[1,{}]', encodeURIComponent('["",null]')])
    expect(left({ rsc: '1', 'next-url': '/', 'next-router-state-tree': garbage, accept: '*/*' }), garbage).toEqual({ accept: '*/*' })
})
