import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { ANONYMITIES, CONSENT_USES } from '#stock/donors/donor.contract'
import { looksLike, mergeRecords, type Record } from '#stock/donors/merge.rules'

const record = (more: Partial<Record> = {}): Record => ({
  name: 'Ines Abreu',
  creditName: 'Ines Abreu',
  sayIt: '',
  contact: 'ines@abreu.example',
  anonymity: 'named',
  consents: { page: true, stream: true, card: true },
  approved: true,
  isStandIn: false,
  ...more,
})

describe('two records of one donor become one', () => {
  test('where they differ about being named the stricter wins, use by use', () => {
    const { consents, changes } = mergeRecords(record(), record({ consents: { page: true, stream: false, card: true } }))
    expect(consents).toEqual({ page: true, stream: false, card: true })
    expect(changes).toEqual(['They will no longer be named on stream: the other record does not say they may.'])
  })

  test('the more hidden level wins', () => {
    expect(mergeRecords(record(), record({ anonymity: 'friend' })).anonymity).toBe('friend')
    expect(mergeRecords(record({ anonymity: 'maker-only' }), record()).anonymity).toBe('maker-only')
  })

  test('what only the other knew is taken over, and nothing is overwritten', () => {
    const gone = record({ contact: 'old@abreu.example', sayIt: 'ee-NESH' })
    expect(mergeRecords(record({ contact: '' }), gone)).toMatchObject({ contact: 'old@abreu.example', sayIt: 'ee-NESH' })
    const both = mergeRecords(record(), gone)
    expect(both.contact).toBe('ines@abreu.example')
    expect(both.changes).toContain('old@abreu.example stays in the record that is merged away; letters go to ines@abreu.example.')
  })

  test('a stand-in was never asked anything, so it takes nothing away', () => {
    const standIn = record({ isStandIn: true, anonymity: 'unknown', contact: '', consents: { page: false, stream: false, card: false } })
    expect(mergeRecords(record(), standIn)).toMatchObject({ consents: record().consents, anonymity: 'named', changes: [] })
  })

  test('nobody is ever named more than both records allow', () => {
    const any = fc.record({
      anonymity: fc.constantFrom(...ANONYMITIES),
      consents: fc.record({ page: fc.boolean(), stream: fc.boolean(), card: fc.boolean() }),
    })
    fc.assert(
      fc.property(any, any, (a, b) => {
        const merged = mergeRecords(record(a), record(b))
        for (const use of CONSENT_USES) expect(merged.consents[use]).toBe(a.consents[use] && b.consents[use])
        const rank = (level: (typeof ANONYMITIES)[number]) => ANONYMITIES.indexOf(level)
        expect(rank(merged.anonymity)).toBe(Math.max(rank(a.anonymity), rank(b.anonymity)))
      }),
    )
  })
})

describe('records that may be one donor', () => {
  const others = [
    { id: 'a', ...record({ name: 'Abreu, Inês', contact: '' }) },
    { id: 'b', ...record({ name: 'I. A.', creditName: 'I. A.', contact: 'INES@abreu.example' }) },
    { id: 'c', ...record({ name: 'Tomas Berg', creditName: 'Tomas Berg', contact: '' }) },
    { id: 'd', ...record({ isStandIn: true }) },
  ]
  test('have the same words in another order, case or accent, or the same email address; a stand-in is never one', () => {
    expect(looksLike({ id: 'x', name: 'Ines Abreu', contact: 'ines@abreu.example' }, others)).toEqual(['a', 'b'])
  })
  test('two without an email address are not alike for that', () => {
    expect(looksLike({ id: 'x', name: 'Somebody', contact: '' }, others)).toEqual([])
  })
})
