import { describe, expect, test } from 'vitest'
import { bidsShownOn, keepablePath } from '#doors/pages/keepable.rules'

const asked = (url: string, headers: Record<string, string> = {}, method = 'GET') => keepablePath({ method, url, headers })

describe('what may be kept', () => {
  test.each([
    '/',
    '/lots/5',
    '/lots/5/history',
    '/check',
    '/programme',
    '/raised',
    '/units/TERN-05',
    '/certificates/TS-2027-0001-A',
    '/credits',
    '/credits/lots/3',
  ])('the page %s', (path) => {
    expect(asked(path)).toBe(path)
    expect(asked(path, {}, 'HEAD')).toBe(path)
  })

  test.each([
    '/?',
    '/?a=1',
    '/lots/5?_rsc=1',
    '/lots/05',
    '/lots/5/',
    '/lots/%35',
    '/lots/5/history?page=2',
    '/lots/05/history',
    '/check?now',
    '//lots/5',
    '/lots/../',
    '/me',
    '/bench',
    '/sign-in',
    '/units/TERN%2D05',
    '/units/a/b',
    `/units/${'A'.repeat(41)}`,
    '/units/tern-05',
    '/units/TERN-5',
    '/units/TERN-0000005',
    '/units/TERN-005',
    '/units/TERN05',
    '/credits/units/tErN-05',
    '/certificates/ts-2027-0001-a',
    '/certificates/TS-2027-00001-A',
    '/yours',
    '/wanted?part=1',
    '/lots/1234567890',
    '/lots/5\n',
  ])('no other address: %j', (path) => {
    expect(asked(path)).toBe(null)
  })

  test.each(['/units/WREN-01', '/units/T2X-120', '/credits/units/TERN-05', '/certificates/TS-2027-12345-0'])(
    'in the one spelling: %s',
    (path) => {
      expect(asked(path)).toBe(path)
    },
  )

  test('no part of a page, and nothing that is no reading', () => {
    expect(asked('/', { rsc: '1' })).toBe(null)
    expect(asked('/', { 'next-router-prefetch': '1' })).toBe(null)
    expect(asked('/', { 'next-action': 'x' })).toBe(null)
    expect(asked('/', {}, 'POST')).toBe(null)
  })
})

test('a bid changes the page of its lot and those that show all, and no record', () => {
  expect(bidsShownOn('/lots/5')).toBe(5)
  expect(bidsShownOn('/lots/5/history')).toBe(5)
  expect(bidsShownOn('/')).toBe('any')
  expect(bidsShownOn('/check')).toBe('none')
  expect(bidsShownOn('/credits/lots/5')).toBe('any')
  expect(bidsShownOn('/units/TERN-05')).toBe('none')
  expect(bidsShownOn('/certificates/TS-1')).toBe('none')
})
