import { describe, expect, test } from 'vitest'
import { boundlessOf, lengthIsFirst, partsOf } from './shapes'
import { everyProcedure } from './walk'

const taking = everyProcedure().flatMap(({ path, shape }) => (shape ? [{ path, shape }] : []))

describe('what procedures take', () => {
  test('the length of every text comes before anything else is asked of it', () => {
    const wrong = taking.flatMap(({ path, shape }) =>
      partsOf(shape).flatMap((part) => {
        const flaw = lengthIsFirst(part)
        return flaw ? [`${path} ${part.path} ${flaw}`] : []
      }),
    )
    expect(wrong).toEqual([])
  })

  test('no list takes any number of lines', () => {
    expect(taking.flatMap(({ path, shape }) => boundlessOf(shape).map((list) => `${path} ${list}`))).toEqual([])
  })
})
