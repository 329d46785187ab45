import { describe, expect, test } from 'vitest'
import {
  atPlaces,
  emptyDraft,
  fromDonor,
  fromSomebodyNew,
  isAllHere,
  isTouched,
  type Known,
  partMeant,
  toParcel,
  whoIsMeant,
} from '../../app/(bench)/bench/parcels/new/draft.rules'

const no = { page: false, stream: false, card: false }
const known: Known = {
  donors: [
    { id: 'adam', name: 'Adam Ray', consents: no, consentAt: null },
    { id: 'ines', name: 'Inês Abreu', consents: no, consentAt: null },
  ],
  promises: [{ giftId: 'g1', donorId: 'ines', what: 'Display', quantity: 6, promisedAt: 0, waiting: ['WREN-06'] }],
  parts: [{ id: 'p1', words: '4.7 kΩ resistor, axial' }],
}
const draft = emptyDraft('key-of-the-phone')

describe('who sent it', () => {
  test('with nothing typed, those whose promises are awaited', () => {
    expect(whoIsMeant('', known).map((donor) => donor.id)).toEqual(['ines'])
  })
  test('by the beginning of any name, without minding accents or case', () => {
    expect(whoIsMeant('ines a', known).map((donor) => donor.id)).toEqual(['ines'])
    expect(whoIsMeant('A', known).map((donor) => donor.id)).toEqual(['ines', 'adam'])
    expect(whoIsMeant('bre', known)).toEqual([])
  })
})

describe('a parcel on the phone', () => {
  test('from a donor who promised is all here as it stands', () => {
    const chosen = fromDonor(draft, 'ines', known)
    expect(isAllHere(chosen, known)).toBe(true)
    expect(toParcel(chosen, known).parcel).toMatchObject({
      key: 'key-of-the-phone',
      donorId: 'ines',
      lines: [{ promiseId: 'g1', quantity: '6' }],
    })
  })
  test('from a donor who promised nothing, or somebody new, has a line to fill in', () => {
    expect(fromDonor(draft, 'adam', known).lines).toMatchObject([{ promiseId: null, what: '', quantity: '1' }])
    expect(fromSomebodyNew(draft, 'Ravi').lines).toHaveLength(1)
  })
  test('a promise of which nothing came stays promised: its line is not sent, and refusals find the right line', () => {
    const chosen = fromDonor(draft, 'ines', known)
    const other = { id: 'x', promiseId: null, what: '4.7 KΩ resistor, axial ', quantity: '20', marking: '', dateCode: '' }
    const lines = [...chosen.lines.map((line) => ({ ...line, quantity: '０' })), other]
    const { parcel, places } = toParcel({ ...chosen, lines }, known)
    expect(parcel.lines).toMatchObject([{ partId: 'p1', words: '', quantity: '20' }])
    expect(atPlaces({ 'lines.0.quantity': 'no', donorId: 'who' }, places)).toEqual({ 'lines.1.quantity': 'no', donorId: 'who' })
  })
  test('what is in no catalogue is sent in words', () => {
    expect(partMeant('Printed manual', known)).toBeUndefined()
    const written = fromSomebodyNew(draft, 'Ravi')
    const lines = written.lines.map((line) => ({ ...line, what: 'Printed manual' }))
    expect(toParcel({ ...written, lines }, known).parcel.lines).toMatchObject([{ words: 'Printed manual' }])
  })
  test('an untouched one need not be taken up again', () => {
    expect(isTouched(draft)).toBe(false)
    expect(isTouched(fromDonor(draft, 'adam', known))).toBe(true)
  })
})
