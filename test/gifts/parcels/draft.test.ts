import { describe, expect, test } from 'vitest'
import {
  againstPromise,
  asSentBy,
  atPlaces,
  emptyDraft,
  fromDonor,
  fromNobodyKnown,
  fromSomebodyNew,
  isAllHere,
  isTouched,
  type Known,
  partMeant,
  senderOf,
  toParcel,
  whatIsMissing,
  whoIsMeant,
  whoMayHaveSent,
} from '#app/(bench)/bench/parcels/new/draft.rules.ts'

const no = { page: false, stream: false, card: false }
const known: Known = {
  donors: [
    { id: 'adam', name: 'Adam Ray', consents: no, consentAt: null },
    { id: 'ines', name: 'Inês Abreu', consents: no, consentAt: null },
  ],
  promises: [{ giftId: 'g1', donorId: 'ines', partId: 'p9', what: 'Display', quantity: 6, promisedAt: 0, waiting: ['WREN-06'] }],
  parts: [
    { id: 'p1', words: '4.7 kΩ resistor, axial', kind: 'resistor', name: 'resistor', value: '4.7 kΩ', package: 'axial', rating: '' },
    { id: 'p9', words: 'Display', kind: 'display', name: 'Display', value: '', package: '', rating: '' },
  ],
  goals: { units: [{ id: 'u3', tag: 'TERN-03' }], designs: [{ id: 'd1', name: 'Saltmarsh' }] },
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
    const other = {
      id: 'x',
      promiseId: null,
      what: '4.7 KΩ resistor, axial ',
      quantity: '20',
      marking: '',
      dateCode: '',
      onlyFor: 'unit:u3',
    }
    const lines = [...chosen.lines.map((line) => ({ ...line, quantity: '０' })), other]
    const { parcel, places } = toParcel({ ...chosen, lines }, known)
    expect(parcel.lines).toMatchObject([{ partId: 'p1', words: '', quantity: '20', onlyForUnitId: 'u3' }])
    expect(atPlaces({ 'lines.0.quantity': 'no', donorId: 'who' }, places)).toEqual({ 'lines.1.quantity': 'no', donorId: 'who' })
  })
  test('what is in no catalogue is sent in words', () => {
    expect(partMeant('Printed manual', known)).toBeUndefined()
    const written = fromSomebodyNew(draft, 'Ravi')
    const lines = written.lines.map((line) => ({ ...line, what: 'Printed manual' }))
    expect(toParcel({ ...written, lines }, known).parcel.lines).toMatchObject([{ words: 'Printed manual' }])
  })
  test('an untouched one need not be taken up again', () => {
    expect(isTouched(draft, false)).toBe(false)
    expect(isTouched(draft, true)).toBe(true)
    expect(isTouched(fromDonor(draft, 'adam', known), false)).toBe(true)
  })
  test('from nobody known names who promised such parts, and keeps what was written when they are chosen', () => {
    const nobody = fromNobodyKnown(draft)
    const written = { ...nobody, lines: nobody.lines.map((line) => ({ ...line, what: 'display', quantity: '6' })) }
    expect(toParcel(written, known).parcel).toMatchObject({ fromNobody: true, lines: [{ partId: 'p9', quantity: '6' }] })
    expect(whoMayHaveSent(written, known).map(({ id }) => id)).toEqual(['ines'])
    const { parcel } = toParcel(asSentBy(written, 'ines'), known)
    expect(parcel).toMatchObject({ donorId: 'ines', lines: [{ partId: 'p9', quantity: '6' }] })
    expect(parcel).not.toHaveProperty('fromNobody')
    expect([senderOf(written, known), senderOf(asSentBy(written, 'ines'), known)]).toEqual(['not known', 'Inês Abreu'])
  })
  test.each([
    ['6', ''],
    ['４', '2 still promised.'],
    ['8', '2 more than promised.'],
    ['0', 'None came; all are still promised.'],
    ['', ''],
    ['x', ''],
  ])('%j of six: %s', (quantity, words) => {
    expect(againstPromise(quantity, 6)).toBe(words)
  })
})

describe('what is refused on the phone, with or without a connection', () => {
  test('an empty parcel, from nobody, with a line that says nothing', () => {
    expect(whatIsMissing(draft)).toEqual({ donorId: 'Say who it is from.', lines: 'Say what came in it.' })
    expect(whatIsMissing(fromNobodyKnown(draft))).toEqual({ 'lines.0.words': 'Say what it is, or choose a part.' })
  })
  test('a promise of which nothing came is no parcel', () => {
    const chosen = fromDonor(draft, 'ines', known)
    expect(whatIsMissing({ ...chosen, lines: chosen.lines.map((line) => ({ ...line, quantity: '0' })) })).toEqual({
      lines: 'Say what came in it.',
    })
    expect(whatIsMissing(chosen)).toEqual({})
  })
  test.each([
    ['30', undefined],
    ['ca. 30', undefined],
    ['?', undefined],
    ['', 'Write how many'],
    ['0', 'Write how many'],
    ['-3', 'Write how many'],
    ['3.5', 'Write how many'],
  ])('%j of something', (quantity, words) => {
    const one = fromNobodyKnown(draft)
    const missing = whatIsMissing({ ...one, lines: one.lines.map((line) => ({ ...line, what: 'knobs', quantity })) })
    if (words === undefined) expect(missing).toEqual({})
    else expect(missing['lines.0.quantity']).toContain(words)
  })
})

test('what somebody said yes to goes out as a new part, and a guess or a bag as what it is', () => {
  const one = fromNobodyKnown(draft)
  const fresh = { part: { kind: 'capacitor' as const, name: 'capacitor', value: '100 nF' }, words: '100 nF capacitor' }
  const { parcel } = toParcel({ ...one, lines: one.lines.map((line) => ({ ...line, what: '0,1uF', fresh, quantity: 'ca. 30' })) }, known)
  expect(parcel.lines).toMatchObject([{ newPart: fresh.part, words: '0,1uF', quantity: '30', howCounted: 'about' }])
})
