import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { standingOf, type UnitHistory } from '#bench/units/current.rules'
import { undoneBy } from '#bench/units/undo.rules'
import { CHECKS, FEEDS, passed } from './make'

const undone = (blocks: string[], iron = false) => undoneBy({ blocks, iron }, CHECKS, FEEDS).map((one) => one.check)
const change = (seq: number, blocks: string[], iron = false) => ({ id: `change@${seq}`, seq, blocks, iron, words: 'Q3 replaced' })
const ALL = CHECKS.map((one, index) => passed(one.key, index + 1))

describe('what a change undoes', () => {
  it('the checks of the touched block and of everything it feeds, the currents and ripples of what powers it, soak and close-out', () => {
    expect(undone(['oscillator'])).toEqual(['P1', 'R2', 'O1', 'A1', 'S1', 'Z1'])
  })

  it('not the voltage of a rail that only powers what was touched', () => {
    expect(undone(['oscillator'])).not.toContain('R1')
  })

  it('nothing beside it: a change in the audio leaves the oscillator standing', () => {
    expect(undone(['audio'])).toEqual(['P1', 'A1', 'S1', 'Z1'])
  })

  it('with an iron also the visual and cold checks that look at it', () => {
    expect(undone(['audio'], true)).toEqual(['V1', 'K1', 'P1', 'A1', 'S1', 'Z1'])
  })

  it('a change of the board undoes everything', () => {
    expect(undone(['assembly'])).toEqual(CHECKS.map((one) => one.key))
  })

  it('a change that touches no block still undoes soak and close-out', () => {
    expect(undone([])).toEqual(['S1', 'Z1'])
  })
})

describe('which readings stand', () => {
  it('the later reading of a check supersedes the earlier, with the reason', () => {
    const { states, superseded } = standingOf(CHECKS, FEEDS, {
      readings: [
        passed('A1', 1, { verdict: 'fail' }),
        passed('A1', 2),
        passed('O1', 3),
        passed('O1', 4, { correction: 'misread the scale' }),
      ],
      changes: [],
      releases: [],
    })
    expect(states.get('A1')).toMatchObject({ current: 'A1@2', verdict: 'pass', lost: null })
    expect(superseded.get('A1@1')).toMatchObject({ by: 'reading', id: 'A1@2', why: 'taken again' })
    expect(superseded.get('O1@3')?.why).toBe('corrected: misread the scale')
  })

  it('a reading spoilt by a change is lost, and stays in the record with the reason', () => {
    const { states, superseded } = standingOf(CHECKS, FEEDS, { readings: ALL, changes: [change(20, ['oscillator'])], releases: [] })
    expect(states.get('A1')).toMatchObject({ current: null, verdict: null, lost: { by: 'change', id: 'change@20' } })
    expect(superseded.get('A1@7')?.why).toBe('Q3 replaced: audio is fed by oscillator')
    expect(states.get('R1')?.current).toBe('R1@4')
  })

  it('taken again after the change it stands, and the old one names the change and not the new reading', () => {
    const { states, superseded } = standingOf(CHECKS, FEEDS, {
      readings: [...ALL, passed('A1', 30)],
      changes: [change(20, ['oscillator'])],
      releases: [],
    })
    expect(states.get('A1')).toMatchObject({ current: 'A1@30', lost: null })
    expect(superseded.get('A1@7')).toMatchObject({ by: 'change', id: 'change@20' })
  })

  it('being listed after a lost check discards nothing', () => {
    const { states } = standingOf(CHECKS, FEEDS, { readings: ALL, changes: [change(20, ['audio'])], releases: [] })
    expect(states.get('P1')?.current).toBeNull()
    expect(states.get('R1')?.current).toBe('R1@4')
    expect(states.get('O1')?.current).toBe('O1@6')
  })

  it('a release stands no longer than the reading it was given for', () => {
    const release = { check: 'K1', seq: 15, name: 'Maren Holt' }
    const history: UnitHistory = { readings: ALL, changes: [], releases: [release] }
    expect(standingOf(CHECKS, FEEDS, history).states.get('K1')?.releasedBy).toBe('Maren Holt')
    const again = { ...history, readings: [...ALL, passed('K1', 16)] }
    expect(standingOf(CHECKS, FEEDS, again).states.get('K1')?.releasedBy).toBeNull()
    const changed = { ...history, changes: [change(17, ['supply'])] }
    expect(standingOf(CHECKS, FEEDS, changed).states.get('K1')?.releasedBy).toBeNull()
  })

  it('no current reading is one that a later change could have spoilt, whatever was done in whatever order', () => {
    const blocks = [...new Set(FEEDS.flatMap((feed) => [feed.from, feed.to]))]
    const event = fc.oneof(
      fc.record({ kind: fc.constant('reading' as const), check: fc.constantFrom(...CHECKS.map((one) => one.key)) }),
      fc.record({ kind: fc.constant('change' as const), blocks: fc.subarray(blocks), iron: fc.boolean() }),
    )
    fc.assert(
      fc.property(fc.array(event, { maxLength: 40 }), (events) => {
        const history = { readings: [] as ReturnType<typeof passed>[], changes: [] as ReturnType<typeof change>[], releases: [] }
        for (const [seq, one] of events.entries()) {
          if (one.kind === 'reading') history.readings.push(passed(one.check, seq))
          else history.changes.push(change(seq, one.blocks, one.iron))
        }
        const { states, superseded } = standingOf(CHECKS, FEEDS, history)
        for (const state of states.values()) {
          const current = history.readings.find((reading) => reading.id === state.current)
          if (!current) continue
          expect(superseded.has(current.id)).toBe(false)
          for (const later of history.changes.filter((one) => one.seq > current.seq)) {
            expect(undone(later.blocks, later.iron)).not.toContain(current.check)
          }
        }
        const standing = [...states.values()].filter((state) => state.current !== null).length
        expect(standing + superseded.size).toBe(history.readings.length)
      }),
      { numRuns: 300 },
    )
  })
})
