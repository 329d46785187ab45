import { expect, test } from 'vitest'
import { lookedPins, placeIn, sayPins } from '#app/_ui/board-photo.rules.ts'

const pin = (mark: string, x = 500, y = 500) => ({ mark, x, y })

test('suspects, points and the next point are told apart, and what is looked for lies on top', () => {
  const looked = lookedPins([pin('TP3'), pin('R1'), pin('U2'), pin('Q4')], { suspects: ['Q4'], points: ['U2 pin 8', 'TP3'], next: 'TP3' })
  expect(looked.map(({ mark, tone }) => [mark, tone])).toEqual([
    ['R1', 'part'],
    ['Q4', 'suspect'],
    ['U2', 'point'],
    ['TP3', 'next'],
  ])
})

test('a point with a pin of its own is meant itself, and not the part that it is on', () => {
  const looked = lookedPins([pin('U2'), pin('U2 pin 8')], { suspects: [], points: ['U2 pin 8'], next: 'U2 pin 8' })
  expect(looked.map(({ mark, tone }) => [mark, tone])).toEqual([
    ['U2', 'part'],
    ['U2 pin 8', 'next'],
  ])
})

test('whoever cannot see it is told where', () => {
  const looked = lookedPins([pin('TP3', 900, 100), pin('R1')], { suspects: [], points: ['TP3'], next: 'TP3' })
  expect(sayPins('the top', looked)).toBe('Photograph of the board, the top. TP3 (probe next) upper right.')
})

test('a press is kept in thousandths of the picture, whatever its size, and never beside it', () => {
  const box = { left: 100, top: 50, width: 320, height: 240 }
  expect(placeIn({ clientX: 180, clientY: 230 }, box)).toEqual({ x: 250, y: 750 })
  expect(placeIn({ clientX: 90, clientY: 999 }, box)).toEqual({ x: 0, y: 1000 })
})
