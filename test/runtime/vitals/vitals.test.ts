import { expect, it } from 'vitest'
import { MINUTE } from '#kernel/instant'
import { openLog } from '#runtime/settings/log'
import { newsOf } from '#runtime/vitals/news.rules'
import type { Finding, Watched } from '#runtime/vitals/vital'
import { openVitals } from '#runtime/vitals/vitals'
import { NOON } from '#test/stage'

const good: Finding = { value: 1, standing: 'good', words: 'All is well.', toDo: null }
const bad: Finding = { value: 9, standing: 'bad', words: 'It is not.', toDo: 'See to it.' }

function open(keys: readonly string[]) {
  let now = NOON
  const found = new Map<string, Finding | Error>(keys.map((key) => [key, good]))
  const watchedOf = (key: string): Watched => ({
    key,
    name: key,
    unit: 'count',
    help: `The ${key}.`,
    look() {
      const one = found.get(key)
      if (one instanceof Error) throw one
      return one ?? good
    },
  })
  const vitals = openVitals({ now: () => now, log: openLog('silent'), watched: keys.map(watchedOf) })
  const lookAfter = (ms: number) => {
    now += ms
    vitals.look()
  }
  return { vitals, found, watchedOf, lookAfter, now: () => now }
}

it('the worst stands first, with since when it has been so', () => {
  const { vitals, found, lookAfter } = open(['one', 'two'])
  expect(vitals.list().map(({ key, standing }) => [key, standing])).toEqual([
    ['one', 'good'],
    ['two', 'good'],
  ])
  found.set('two', bad)
  lookAfter(MINUTE)
  lookAfter(MINUTE)
  expect(vitals.list().map(({ key, since }) => [key, since])).toEqual([
    ['two', NOON + MINUTE],
    ['one', NOON],
  ])
})

it('what cannot be looked at is worth a look, and the others are looked at all the same', () => {
  const { vitals, found, lookAfter } = open(['one', 'two'])
  found.set('one', new Error('ENOENT'))
  found.set('two', bad)
  lookAfter(0)
  expect(vitals.list().map(({ standing }) => standing)).toEqual(['bad', 'look'])
  expect(vitals.find('one')?.words).not.toContain('ENOENT')
})

it('what opens later is watched from then on', () => {
  const { vitals, watchedOf } = open(['one'])
  vitals.list()
  vitals.watch(watchedOf('two'))
  expect(vitals.find('two')?.standing).toBe('good')
})

it('a piece of five minutes keeps its last figure and the worst of it, and six hours are kept', () => {
  const { vitals, found, lookAfter } = open(['one'])
  lookAfter(0)
  found.set('one', bad)
  lookAfter(MINUTE)
  found.set('one', { ...good, value: 2 })
  lookAfter(MINUTE)
  expect(vitals.pieces('one')).toEqual([{ at: NOON, value: 2, standing: 'bad' }])
  for (let piece = 0; piece < 100; piece++) lookAfter(5 * MINUTE)
  expect(vitals.pieces('one')).toHaveLength(72)
  expect(vitals.pieces('nothing')).toEqual([])
})

it('there is news of what has been bad for a minute, once, and when it has been well for a minute', () => {
  const { vitals, found, lookAfter, now } = open(['one', 'two'])
  const told = new Set<string>()
  const news = () => {
    const { bad: isBad, over } = newsOf(vitals.list(), told, now())
    return [isBad.map(({ key }) => key), over.map(({ key }) => key)]
  }
  lookAfter(5 * MINUTE)
  found.set('one', bad)
  lookAfter(1000)
  expect(news()).toEqual([[], []])
  lookAfter(MINUTE - 1)
  expect(news()).toEqual([[], []])
  lookAfter(1)
  expect(news()).toEqual([['one'], []])
  told.add('one')
  expect(news()).toEqual([[], []])
  // Well for half a minute, then bad again: the same episode.
  found.set('one', good)
  lookAfter(MINUTE / 2)
  found.set('one', bad)
  lookAfter(MINUTE / 2)
  lookAfter(2 * MINUTE)
  expect(news()).toEqual([[], []])
  found.set('one', good)
  lookAfter(1000)
  expect(news()).toEqual([[], []])
  lookAfter(MINUTE)
  expect(news()).toEqual([[], ['one']])
})
