import type { Check, CheckKind, Feed } from '#bench/designs/design.contract'
import { gatesByKind, kindByName } from '#bench/designs/stage-kinds.rules'
import type { TakenReading } from '#bench/units/current.rules'

/** A check with everything a test does not care about filled in. */
export function check(key: string, seq: number, over: Partial<Check> = {}): Check {
  const { stage = 'function', kind = 'measure', isHold = false } = over
  const stageKind = over.stageKind ?? kindByName(stage)
  return {
    key,
    seq,
    stage: 'function',
    stageKind,
    isHold: false,
    gatesPower: gatesByKind(stageKind, { isHold, kind }),
    fourEyes: false,
    frequency: null,
    title: `Check ${key}`,
    kind: 'measure' as CheckKind,
    nominal: 5,
    lower: 4.75,
    upper: 5.25,
    decimals: 2,
    unit: 'V',
    after: [],
    exercises: [],
    isPowered: true,
    minutes: 1,
    soakHours: null,
    coldStarts: null,
    plain: '',
    caution: '',
    onFailure: '',
    expects: null,
    ...over,
  }
}

export const power = (from: string, to: string): Feed => ({ from, to, kind: 'power' })
export const signal = (from: string, to: string): Feed => ({ from, to, kind: 'signal' })

export const passed = (key: string, seq: number, over: Partial<TakenReading> = {}): TakenReading => ({
  id: `${key}@${seq}`,
  seq,
  check: key,
  verdict: 'pass',
  correction: null,
  ...over,
})

/** A small receiver: board, supply, rail, oscillator and audio, with one check of each sort that the rules tell apart. */
export const FEEDS: Feed[] = [
  signal('assembly', 'supply'),
  power('supply', 'rail'),
  power('supply', 'audio'),
  power('rail', 'oscillator'),
  signal('oscillator', 'audio'),
  signal('audio', 'whole unit'),
]

export const CHECKS: Check[] = [
  check('V1', 1, {
    stage: 'visual',
    exercises: ['assembly'],
    isPowered: false,
    kind: 'count',
    unit: 'defects',
    nominal: 0,
    lower: null,
    upper: 0,
  }),
  check('K1', 2, {
    stage: 'cold',
    isHold: true,
    exercises: ['supply'],
    isPowered: false,
    after: ['V1'],
    unit: 'kΩ',
    nominal: 2,
    lower: 0.5,
    upper: null,
  }),
  check('P1', 3, {
    stage: 'first power',
    exercises: ['supply'],
    after: ['K1'],
    unit: 'mA',
    title: 'Current',
    nominal: 9,
    lower: 4,
    upper: 15,
  }),
  check('R1', 4, { stage: 'rails', isHold: true, exercises: ['rail'], after: ['P1'] }),
  check('R2', 5, {
    stage: 'rails',
    exercises: ['rail'],
    after: ['R1'],
    title: 'Ripple on the rail',
    unit: 'mVpp',
    nominal: 8,
    lower: null,
    upper: 30,
  }),
  check('O1', 6, { exercises: ['oscillator'], after: ['R1'], unit: 'kHz', nominal: 455, lower: 453, upper: 457 }),
  check('A1', 7, { exercises: ['audio'], after: ['R1'] }),
  check('S1', 8, {
    stage: 'soak',
    isHold: true,
    kind: 'soak',
    exercises: ['whole unit'],
    after: ['O1', 'A1', 'R2'],
    unit: 'faults',
    nominal: 0,
    lower: null,
    upper: 0,
    soakHours: 12,
    coldStarts: 6,
  }),
  check('Z1', 9, {
    stage: 'close-out',
    isHold: true,
    kind: 'yesno',
    exercises: ['whole unit'],
    after: ['S1'],
    unit: '',
    nominal: null,
    lower: null,
    upper: null,
  }),
]
