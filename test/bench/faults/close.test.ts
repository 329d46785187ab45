import { describe, expect, it } from 'vitest'
import { type ClosingFacts, decideClosing } from '#bench/faults/close.rules'

const position = (designator: string, blocks: string[]) => ({ designator, partId: 'p', blocks, fittedAfter: null, isProgrammed: false })
const GIVEN: ClosingFacts = {
  cause: 'part',
  block: 'front end',
  designator: 'Q1',
  blocks: ['front end', 'audio'],
  positions: [position('Q1', ['front end']), position('C9', ['front end', 'audio'])],
  stillFails: null,
}
const decide = (over: Partial<ClosingFacts>) => decideClosing({ ...GIVEN, ...over })

describe('closing a fault', () => {
  it('keeps block and position', () => {
    expect(decide({})).toEqual({ ok: true, block: 'front end', designator: 'Q1' })
  })

  it('takes the block from a position that is in one only', () => {
    expect(decide({ block: '' })).toEqual({ ok: true, block: 'front end', designator: 'Q1' })
    expect(decide({ block: '', designator: 'C9' })).toMatchObject({ field: 'block', words: 'Choose the block it was in.' })
  })

  it('a joint needs no position, a part does', () => {
    expect(decide({ cause: 'joint', designator: '' })).toEqual({ ok: true, block: 'front end', designator: null })
    expect(decide({ designator: '' })).toMatchObject({ field: 'designator', words: 'Write the position of the part, such as Q4.' })
  })

  it.each([
    [{ designator: 'Q99' }, 'designator', 'There is no position Q99. Write one of the parts list, such as R1.'],
    [{ cause: 'joint', designator: '', block: '' }, 'block', 'Choose the block it was in.'],
    [{ cause: 'joint', designator: '', block: 'engine' }, 'block', 'There is no block "engine". Choose one of the design\'s.'],
    [{ cause: 'none' }, 'block', 'If nothing was wrong there is no block. Leave block and position empty.'],
    [{ block: 'audio' }, 'designator', 'Q1 belongs to front end, not to audio. Choose that block, or another position.'],
    [
      { stillFails: 'B21' },
      'cause',
      'B21 still fails. Enter the change as a rework of what B21 looks at, or take it again, then close the fault.',
    ],
    [{ cause: 'none', stillFails: 'B21' }, 'cause', 'B21 still fails. Take it again or correct its reading, then close the fault.'],
  ] as const)('%o is refused at its field', (over, field, words) => {
    expect(decide(over)).toEqual({ ok: false, field, words })
  })

  it('a false alarm has no place', () => {
    expect(decide({ cause: 'none', block: '', designator: '' })).toEqual({ ok: true, block: null, designator: null })
  })
})
