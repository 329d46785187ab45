import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Check, Feed } from '#bench/designs/design.contract'
import { isDone, standingOf, type UnitHistory } from '#bench/units/current.rules'
import { check } from './make'
import { type Event, whatStands } from './what-stands'

const BLOCKS = ['assembly', 'supply', 'rail', 'clock', 'logic', 'audio', 'display', 'whole unit']

const block = fc.constantFrom(...BLOCKS)
const feed: fc.Arbitrary<Feed> = fc.record({ from: block, to: block, kind: fc.constantFrom('power' as const, 'signal' as const) })

const SORTS: Partial<Check>[] = [
  {},
  { stage: 'rails', unit: 'V', title: 'the rail' },
  { stage: 'rails', unit: 'mA', title: 'what it draws' },
  { stage: 'rails', unit: 'mVpp', title: 'the ripple on it' },
  { stage: 'cold', isPowered: false, unit: 'kΩ', title: 'cold resistance' },
  { stage: 'visual', isPowered: false, kind: 'count', unit: 'defects' },
  { stage: 'soak', kind: 'soak', soakHours: 12, isHold: true },
  { stage: 'close-out', kind: 'yesno', isHold: true },
]

/** Any design: loops of signal among it, blocks that nothing reaches, checks that look at several. */
const design = fc.record({
  feeds: fc.uniqueArray(
    feed.filter(({ from, to }) => from !== to),
    { maxLength: 12, selector: ({ from, to, kind }) => `${from}${to}${kind}` },
  ),
  checks: fc
    .array(fc.record({ sort: fc.constantFrom(...SORTS), exercises: fc.uniqueArray(block, { minLength: 1, maxLength: 2 }) }), {
      minLength: 1,
      maxLength: 8,
    })
    .map((rows) => rows.map(({ sort, exercises }, index) => check(`C${index + 1}`, index + 1, { title: 'a figure', ...sort, exercises }))),
})

const touched = fc.subarray(BLOCKS)
const history = (checks: readonly Check[]): fc.Arbitrary<Event[]> =>
  fc.array(
    fc.oneof(
      {
        weight: 5,
        arbitrary: fc.record({
          kind: fc.constant('reading' as const),
          check: fc.constantFrom(...checks.map(({ key }) => key)),
          passes: fc.boolean(),
        }),
      },
      { weight: 2, arbitrary: fc.record({ kind: fc.constant('change' as const), blocks: touched, iron: fc.boolean() }) },
      { weight: 1, arbitrary: fc.record({ kind: fc.constantFrom('first fitting' as const, 'correction' as const), blocks: touched }) },
    ),
    { maxLength: 40 },
  )

const told = design.chain((made) => history(made.checks).map((events) => ({ ...made, events })))

/** As the house keeps it: only a change is a change, and everything has its number. */
function kept(events: readonly Event[]): UnitHistory {
  return {
    readings: events.flatMap((event, seq) =>
      event.kind === 'reading'
        ? [{ id: String(seq), seq, check: event.check, verdict: event.passes ? ('pass' as const) : ('fail' as const), correction: null }]
        : [],
    ),
    changes: events.flatMap((event, seq) =>
      event.kind === 'change' ? [{ id: String(seq), seq, blocks: event.blocks, iron: event.iron, words: 'a change' }] : [],
    ),
    releases: events.flatMap((event, seq) =>
      event.kind === 'reading' ? [{ check: event.check, seq: seq + 0.5, name: 'Wilma Harrow' }] : [],
    ),
  }
}

describe('over random designs and random histories', () => {
  it('no certificate rests on a reading that a later change could have spoilt', () => {
    fc.assert(
      fc.property(told, ({ checks, feeds, events }) => {
        const { states } = standingOf(checks, feeds, kept(events))
        const stands = whatStands(checks, feeds, events)
        for (const one of checks) {
          if (!isDone(one, states.get(one.key))) continue
          expect(String(stands.get(one.key))).toBe(states.get(one.key)?.current)
        }
      }),
      { numRuns: 1500 },
    )
  })

  it('no reading that a change could not touch is thrown away', () => {
    fc.assert(
      fc.property(told, ({ checks, feeds, events }) => {
        const { states, superseded } = standingOf(checks, feeds, kept(events))
        for (const [key, seq] of whatStands(checks, feeds, events)) {
          expect(states.get(key)?.current).toBe(String(seq))
          expect(superseded.has(String(seq))).toBe(false)
        }
      }),
      { numRuns: 1500 },
    )
  })

  it('what no longer stands is in the record, each reading with why', () => {
    fc.assert(
      fc.property(told, ({ checks, feeds, events }) => {
        const { superseded } = standingOf(checks, feeds, kept(events))
        const stands = new Set([...whatStands(checks, feeds, events).values()].map(String))
        for (const { id } of kept(events).readings) {
          if (stands.has(id)) continue
          expect(superseded.get(id)?.why).toMatch(/\w/)
        }
      }),
      { numRuns: 500 },
    )
  })
})
