import { expect, test } from 'vitest'
import { draftCertificate } from '#bench/certificates/certificates.rules'
import { anIssuer, aUnit, BENCH_OPENS } from '#test/make/unit-facts'
import published from './report-contents.json'

const payload = draftCertificate({
  unit: aUnit(),
  issuer: anIssuer,
  serial: 'TS-2027-0147-M',
  issuedAt: BENCH_OPENS,
  home: 'https://longbench.example',
})

/** Where each item of ISO/IEC 17025:2017, 7.8.2.1 stands in a certificate. A list to check against; no conformity is claimed. */
const WHERE: Record<string, (keyof typeof payload)[]> = {
  a: ['title'],
  b: ['issuer'],
  c: ['place'],
  d: ['serial', 'end'],
  e: ['madeFor'],
  f: ['method'],
  g: ['item'],
  h: ['received'],
  i: ['work'],
  j: ['issuedAt'],
  k: ['sampling'],
  l: ['scope'],
  m: ['results'],
  n: ['deviations'],
  o: ['authorisedBy'],
  p: ['external'],
  note: ['copying'],
  '7.8.6': ['decisionRule'],
}

const items = published.rows.filter((row) => row.item !== 'edition check')

test('the list is that of 2017, with sixteen items a to p', () => {
  expect(items.filter((row) => /^[a-p]$/.test(row.item)).map((row) => row.item)).toEqual([...'abcdefghijklmnop'])
})

test.each(items)('item $item, "$own_words", has its place', ({ item }) => {
  const places = WHERE[item] ?? []
  expect(places.length).toBeGreaterThan(0)
  for (const place of places) expect(payload[place]).toBeDefined()
})

test('every result says its unit where it has one, its limits and the specification they come from', () => {
  for (const result of payload.results.filter((one) => one.kind === 'measure')) {
    expect(result.unit).not.toBeNull()
    expect(result.lower !== null || result.upper !== null).toBe(true)
    expect(result.instrument).not.toBeNull()
  }
  expect(payload.method).toMatchObject({ checklist: 'Checklist of Saltmarsh SR-3', revision: 'C' })
})

test('it says that it claims no conformity', () => {
  expect(payload.notClaimed).toContain('no accreditation and no conformity to ISO/IEC 17025')
})
