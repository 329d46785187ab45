import { describe, expect, test } from 'vitest'
import { closeOutChecklist, type EndFacts } from '#end/close-out/checklist.rules'

const closed: EndFacts = {
  openLots: [],
  unopenedLots: [],
  endedLots: 5,
  leftLots: [],
  toBeHadLots: [],
  unpaidLots: [],
  unpaidWords: '',
  unplaced: 0,
  unplacedWords: '',
  matchedDueWords: null,
  unsentLots: [],
  problemLots: [],
  varianceWords: null,
  toRemitWords: null,
  toTell: 0,
  cannotTell: 0,
  packOn: '2027-04-01',
  isPackOld: false,
  contactsDueOn: '2027-06-11',
  contactsDeletedOn: '2027-06-12',
  isContactsDue: true,
}
const stateOf = (facts: Partial<EndFacts>, key: string) => closeOutChecklist({ ...closed, ...facts }).find((one) => one.key === key)

describe('what is left to do at the end', () => {
  test('is nothing when all of it is done', () => {
    expect(closeOutChecklist(closed).filter(({ state }) => state !== 'done')).toEqual([])
  })

  test.each<[string, Partial<EndFacts>, string]>([
    ['ended', { openLots: [3, 4, 5] }, 'Lots 3, 4 and 5 are still open.'],
    ['unopened', { unopenedLots: [6] }, 'Lot 6 never opened'],
    ['left', { leftLots: [4, 7], toBeHadLots: [2] }, 'Nobody has lots 4 and 7'],
    ['paid', { unpaidLots: [2], unpaidWords: '£189.50' }, 'Lot 2: £189.50 is still owed.'],
    ['placed', { unplaced: 1, unplacedWords: '£5.00' }, '£5.00 came in and is not allocated yet.'],
    ['matched', { matchedDueWords: '£20.00' }, '£20.00 can be asked for.'],
    ['sent', { unsentLots: [1, 2] }, 'Lots 1 and 2 have not left the bench.'],
    ['problems', { problemLots: [1] }, 'Lot 1: a buyer is waiting for an answer.'],
    ['variance', { varianceWords: 'It is out by £0.01; the statement says where.' }, 'It is out by £0.01'],
    ['remitted', { toRemitWords: '£77.00' }, '£77.00 is held for the cause.'],
    ['told', { toTell: 1, cannotTell: 2 }, 'One letter is ready to be sent. 2 have no email address'],
    ['packed', { packOn: null }, 'No pack has been made that can be read back.'],
    ['packed', { isPackOld: true }, 'the journal has grown since'],
    ['contacts', { contactsDeletedOn: null }, 'The time was up on 2027-06-11: it is due.'],
  ])('%s is open with %j', (key, facts, words) => {
    expect(stateOf(facts, key)).toMatchObject({ state: 'open', words: expect.stringContaining(words) })
  })

  test('is all of it in an empty house: where nothing has been sold nothing is done', () => {
    const empty = closeOutChecklist({ ...closed, endedLots: 0, packOn: null, contactsDeletedOn: null, isContactsDue: false })
    expect(empty.filter(({ state }) => state === 'done')).toEqual([])
    expect(empty.filter(({ state }) => state === 'open').map(({ key }) => key)).toEqual(['ended'])
  })

  test('a machine that can be had is told of, and is not asked for again', () => {
    expect(stateOf({ toBeHadLots: [2] }, 'left')).toMatchObject({ state: 'not-yet', words: 'Lot 2 can be had at a fixed price.' })
  })

  test('what cannot be done before the lots have ended is not asked for yet', () => {
    for (const key of ['paid', 'sent', 'told']) expect(stateOf({ openLots: [3] }, key)?.state).toBe('not-yet')
    expect(stateOf({ contactsDeletedOn: null, isContactsDue: false }, 'contacts')).toMatchObject({
      state: 'not-yet',
      words: 'The time is up on 2027-06-11.',
    })
  })
})
