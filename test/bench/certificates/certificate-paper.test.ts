import { describe, expect, test } from 'vitest'
import { setCertificate } from '#bench/certificates/certificate-paper'
import type { CertificateState } from '#bench/certificates/certificates.contract'
import { draftCertificate } from '#bench/certificates/certificates.rules'
import { DAY } from '#kernel/instant'
import { aLongUnit, anIssuer, aUnit, BENCH_OPENS } from '#test/make/unit-facts'
import { openPdf, pagesOf, scanQr } from '#test/paper/read-pdf'

const draft = (unit = aUnit(), home = 'https://longbench.example') =>
  draftCertificate({ unit, issuer: anIssuer, serial: 'TS-2027-0147-M', issuedAt: BENCH_OPENS + 10 * DAY, home })
const print = (payload = draft(), size: 'a4' | 'letter' = 'a4', state: CertificateState = { is: 'current' }) =>
  setCertificate({ of: 'certificate', payload, state, size, kid: 'key-1' })

test('the same record gives the same bytes, whenever it is printed', async () => {
  expect((await print()).equals(await print(structuredClone(draft())))).toBe(true)
})

test('another reading gives other bytes', async () => {
  const payload = draft()
  const changed = { ...payload, results: payload.results.map((one) => (one.check === 'B6' ? { ...one, shown: '8.03' } : one)) }
  expect((await print()).equals(await print(changed))).toBe(false)
})

describe('what another program reads back from the PDF', () => {
  test('holds each check, its reading with sign and unit, its limits and verdict', async () => {
    const words = (await pagesOf(await openPdf(await print()))).join('\n')
    for (const phrase of ['B6 Regulated rail', '8.02 V', '7.7 – 8.3', '2.31 kΩ', '3.1 µV', '≤ 5', '≥ 15', '−64.2 dBm', 'pass within']) {
      expect(words.replaceAll(/\s+/g, ' ')).toContain(phrase)
    }
  })

  test('says what it proves, what was mended, the cautions, the rule, and where it ends', async () => {
    const words = (await pagesOf(await openPdf(await print()))).join('\n').replaceAll(/\s+/g, ' ')
    expect(words).toContain('It proves that this record is unchanged since it was signed, not that it was true.')
    expect(words).toContain('1 March 2027. Core of coil T3 cracked. Coil T3 replaced; B14, B20, B21 measured again.')
    expect(words).toContain('Caution. 12 V only. Not for use near water.')
    expect(words).toContain('Decision rule. Guarded with doubt:')
    expect(words).toContain('no conformity to ISO/IEC 17025')
    expect(words).toContain('End of certificate TS-2027-0147-M.')
    expect(words).not.toContain('\uFFFD')
  })

  test('is tagged, has a title, a language and a figure with words for each gauge', async () => {
    const pdf = await openPdf(await print())
    expect(await pdf.getMarkInfo()).toMatchObject({ Marked: true })
    expect((await pdf.getMetadata()).info).toMatchObject({
      Title: 'Record of tests, Saltmarsh SR-3 rev C, TERN-03, TS-2027-0147-M',
      Language: 'en-GB',
    })
    const tree = JSON.stringify(await (await pdf.getPage(1)).getStructTree())
    for (const role of ['H1', 'Table', 'THead', 'TH', 'TD', 'Figure']) expect(tree).toContain(`"role":"${role}"`)
    expect(tree).toContain('Regulated rail: 8.02 V, 7.7 to 8.3 V, pass.')
  })

  test('names its unit and serial on each page, with the number of the page, and repeats the head of the table', async () => {
    const pages = await pagesOf(await openPdf(await print(draft(aLongUnit()), 'letter')))
    expect(pages.length).toBeGreaterThan(4)
    for (const [index, page] of pages.entries()) {
      expect(page).toContain('TERN-03 · TS-2027-0147-M')
      expect(page).toContain(`page ${index + 1} of ${pages.length}`)
    }
    for (const page of pages.filter((one) => one.includes('Regulated rail'))) expect(page).toContain('Where it stands')
  })

  test('sets names in other scripts, and marks what no font can set', async () => {
    const payload = draft({ ...aUnit(), design: { ...aUnit().design, name: 'Łódź Ωµ Привет 🙂' } })
    const words = (await pagesOf(await openPdf(await print(payload)))).join('\n')
    expect(words).toContain('Łódź Ωµ Привет \uFFFD')
  })
})

describe('the QR code', () => {
  test('leads to the certificate, is level M, and 20 mm wide with its quiet zone', async () => {
    const { text, level, widthMm } = await scanQr(await openPdf(await print()))
    expect(text).toBe('https://longbench.example/certificates/TS-2027-0147-M')
    expect(level).toBe('M')
    // Quiet zone: four modules on each side of the 33 that this address needs.
    const whole = (widthMm / 33) * 41
    expect(whole).toBeGreaterThanOrEqual(20)
    expect(whole).toBeLessThan(21)
  })

  test('has modules of half a millimetre even for a long address', async () => {
    const home = 'https://long-bench-day.a-rather-long-name-for-a-school-of-repairs.example'
    const { text, widthMm } = await scanQr(await openPdf(await print(draft(aUnit(), home))))
    expect(text).toBe(`${home}/certificates/TS-2027-0147-M`)
    expect(widthMm / 37).toBeGreaterThanOrEqual(0.499)
  })
})

test.each([
  ['a4', 595.28, 841.89],
  ['letter', 612, 792],
] as const)('on %s the sheet has its size and nothing stands in the margins', async (size, width, height) => {
  const pdf = await openPdf(await print(draft(aLongUnit()), size))
  for (let number = 1; number <= pdf.numPages; number += 1) {
    const page = await pdf.getPage(number)
    expect(page.view).toEqual([0, 0, width, height])
    const { items } = await page.getTextContent()
    for (const item of items) {
      if (!('str' in item) || item.str.trim() === '') continue
      expect(item.transform[4], item.str).toBeGreaterThanOrEqual(33.9)
      expect(item.transform[4] + item.width, item.str).toBeLessThanOrEqual(width - 33)
      expect(item.transform[5], item.str).toBeGreaterThanOrEqual(33)
    }
  }
})

test('a paper whose certificate no longer stands says so at its head', async () => {
  const at = Date.UTC(2027, 3, 2)
  const withdrawn = await print(draft(), 'a4', { is: 'withdrawn', at, reason: 'Coil T1 replaced.', again: [], by: null })
  expect((await pagesOf(await openPdf(withdrawn)))[0]).toContain('Withdrawn on 2 April 2027: Coil T1 replaced.')
  const superseded = await print(draft(), 'a4', { is: 'superseded', at, by: 'TS-2027-0148-K' })
  expect((await pagesOf(await openPdf(superseded)))[0]).toContain('Superseded on 2 April 2027 by TS-2027-0148-K.')
})
