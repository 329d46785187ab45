import { expect, test } from 'vitest'
import { adviceAt } from '#air/screens/advice.rules'
import { HOUR, MINUTE } from '#kernel/instant'
import type { ProgrammeItem } from '#sale/programme/programme.contract'
import type { ItemKind } from '#sale/programme/programme.rules'

const OPENS = Date.parse('2027-03-13T13:00:00Z')

/** An item from one minute of the day to another; a closing that ran on closes at its second figure. */
const item = (kind: ItemKind, name: string, from: number, to = from, more: Partial<ProgrammeItem> = {}): ProgrammeItem => ({
  uid: 'lot',
  isWithdrawn: false,
  fixedPrice: null,
  isSoldElsewhere: false,
  lateBid: null,
  id: name,
  kind,
  title: name,
  note: '',
  lot: kind === 'closing' ? Number(name) : null,
  unit: null,
  startsAt: OPENS + from * MINUTE,
  endsAt: OPENS + (kind === 'closing' ? from : to) * MINUTE,
  runsTo: OPENS + to * MINUTE,
  isAnnounced: true,
  isOver: false,
  isHeld: false,
  heldSince: null,
  isExtended: false,
  keepsTime: false,
  sequence: 0,
  changedAt: OPENS,
  ...more,
})

const advice = (items: ProgrammeItem[], minute: number) => adviceAt({ items, now: OPENS + minute * MINUTE, endsAt: OPENS + 6 * HOUR })

test('time before the next lot’s ten minutes is filled, with what and how many minutes', () => {
  const told = advice([item('closing', '4', 60)], 38)
  expect(told).toMatchObject({ kind: 'stretch', minutes: 12, words: '12 minutes to fill now, before the ten minutes of lot 4.' })
  expect(told.parts.reduce((sum, { minutes }) => sum + minutes, 0)).toBeLessThanOrEqual(12)
})

test('what runs over into the next ten minutes is cut from its cues, the record first', () => {
  // Lot 1 was extended to minute 48, so the host is free at 53; lot 2 begins at 50.
  const items = [item('closing', '1', 40, 48, { isOver: true }), item('closing', '2', 60)]
  expect(advice(items, 51)).toMatchObject({ kind: 'cut', minutes: 3, words: 'Cut 3 minutes before lot 2.' })
  expect(advice(items, 51).parts).toEqual([
    { words: 'leave out: three lines from its record', minutes: 2 },
    { words: 'shorten: show it working', minutes: 1 },
  ])
})

test('three minutes at most come from showing it and four from the story', () => {
  const items = [item('closing', '1', 40, 52, { isOver: true }), item('closing', '2', 60)]
  expect(advice(items, 53).parts.map(({ minutes }) => minutes)).toEqual([2, 3, 2])
})

test('within its ten minutes and with nothing lost, all is even', () => {
  expect(advice([item('closing', '4', 60)], 50)).toMatchObject({ kind: 'even', words: 'Lot 4 has its ten minutes.' })
})

test('of a day that runs over it says what there is to do, and never that it is on time', () => {
  const moved = item('closing', '4', 60, 60, { runsTo: OPENS + 77 * MINUTE })
  const words = [50, 66, 70].flatMap((minute) => [
    advice([moved], minute).words,
    advice([moved, item('guest', 'Ines', 30, 67)], minute).words,
    advice([moved, item('break', 'Tea', 67, 70)], minute).words,
  ])
  expect(words.join(' ')).not.toMatch(/on time/i)
  expect(words).toContain('Nothing to fill or to leave out.')
  expect(words).toContain('Ines has the time that was planned.')
})

test('less than two minutes are not worth a word', () => {
  expect(advice([item('closing', '4', 60)], 49).kind).toBe('even')
  expect(advice([item('closing', '4', 60)], 48).kind).toBe('stretch')
})

test('a guest who is on may be kept longer, one who keeps their time may not', () => {
  const items = (keepsTime: boolean) => [item('guest', 'Ines', 0, 30, { keepsTime }), item('closing', '4', 60)]
  expect(advice(items(false), 20).parts[0]).toMatchObject({
    words: 'keep Ines longer',
    minutes: 10,
    act: { kind: 'lengthen', minutes: 10 },
  })
  expect(advice(items(true), 20).parts.some(({ words }) => words.includes('Ines'))).toBe(false)
})

test('a day that would end late says by how much and what can be shortened', () => {
  const items = [item('guest', 'The school', 300, 345), item('closing', '9', 362)]
  expect(advice(items, 100)).toMatchObject({
    kind: 'cut',
    minutes: 7,
    words: 'The day would end 7 minutes late.',
    parts: [
      { words: 'shorten The school', minutes: 7, act: { kind: 'shorten', minutes: 7 } },
      { words: 'let the stream end later', minutes: 7, act: { kind: 'end-later', minutes: 7 } },
    ],
  })
})

test('when nothing more has its time there is nothing to catch up with', () => {
  expect(advice([item('closing', '1', 40, 40, { isOver: true })], 60).kind).toBe('even')
})

test('only what can be done is named: a break that is to come is dropped, one that is over or a guest at the shortest is not', () => {
  const items = [item('break', 'Tea', 200, 220), item('guest', 'Brief', 230, 235), item('closing', '9', 362)]
  expect(advice(items, 100).parts.map(({ words }) => words)).toEqual(['drop Tea', 'let the stream end later'])
  expect(advice(items, 225).parts.map(({ words }) => words)).toEqual(['let the stream end later'])
})

test('a break that stands in the way of a closing is said, with the way out', () => {
  const items = [item('closing', '4', 60, 79), item('break', 'Lunch', 66, 126)]
  expect(advice(items, 61)).toMatchObject({
    words: 'Lunch stands in the way of lot 4.',
    parts: [{ words: 'drop Lunch', act: { kind: 'drop' } }],
  })
})

test('while a close is being confirmed there is nothing to fill and nothing to cut', () => {
  const items = [item('closing', '1', 40), item('closing', '4', 90)]
  expect(advice(items, 42)).toMatchObject({ kind: 'even', words: 'Wait for the close of lot 1.' })
  // Nobody confirmed it for so long: it is sold elsewhere, and the day goes on.
  expect(advice(items, 46)).toMatchObject({ kind: 'stretch' })
})
