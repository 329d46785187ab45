import { describe, expect, test } from 'vitest'
import type { CertificateResult } from '#bench/certificates/certificates.contract'
import { checksForHome } from '#bench/certificates/certificates.rules'
import { compareAtHome, type HomeCheck } from '#bench/certificates/home.rules'
import { homeLines } from '#bench/certificates/sentences.rules'
import { CHECKLIST_COLUMNS, readChecklist } from '#bench/designs/checklist.rules'
import { type Cells, cellsOf } from '#bench/designs/written.rules'

const RAIL: Cells = {
  step: 'B6',
  stage: 'rails',
  title: 'Regulated rail',
  kind: 'measure',
  nominal: '8.0',
  lower: '7.7',
  upper: '8.3',
  unit: 'V',
  exercises: 'rail 8 V',
  powered: 'y',
  minutes: '1',
}
const HOME: Cells = {
  'touch at home': 'Red probe on the loop marked 8 V.',
  'needed at home': 'A meter on its 20 V range.',
  'look and listen': 'The lamp keeps its brightness.',
}
const read = (...rows: Cells[]) =>
  readChecklist(
    rows.map((row, index) => ({
      line: index + 1,
      cells: Object.fromEntries(CHECKLIST_COLUMNS.map(({ name }) => [name, row[name] ?? ''])),
    })),
  )
const flawsOf = (...rows: Cells[]) => read(...rows).flaws.map(({ line, column, words }) => [line, column, words])

describe('a check that is opened for home', () => {
  test('keeps what its maker says of it, and is written back as it was read', () => {
    const [one] = read({ ...RAIL, ...HOME }).checks
    expect(one?.check.atHome).toEqual({
      touch: 'Red probe on the loop marked 8 V.',
      needs: 'A meter on its 20 V range.',
      signs: 'The lamp keeps its brightness.',
    })
    expect(one && cellsOf(one.check)).toMatchObject(HOME)
  })
  test('is none where the columns are empty, so that a design written before is the same design', () => {
    expect(read(RAIL).checks[0]?.check).not.toHaveProperty('atHome')
  })
  test('says where to touch, or what to look and listen for', () => {
    expect(flawsOf({ ...RAIL, 'needed at home': 'A meter.' })).toEqual([
      [1, 'touch at home', 'Say where to touch, or what to look and listen for.'],
    ])
    expect(flawsOf({ ...RAIL, 'look and listen': 'No hum.' })).toEqual([])
  })
  test.each(['mains', 'a cell', 'the batteries', 'a capacitor'])('carries a caution where hands come near %s', (what) => {
    const row = { ...RAIL, ...HOME, 'touch at home': `Red probe beside ${what}.` }
    expect(flawsOf(row)).toMatchObject([[1, 'caution', expect.stringContaining('Write a caution')]])
    expect(flawsOf({ ...row, caution: 'Unplug it first.' })).toEqual([])
  })
  test('is no match and no soak, and not the sixth of its design', () => {
    expect(flawsOf({ ...RAIL, ...HOME, kind: 'match' })).toMatchObject([[1, 'touch at home', expect.stringContaining('A match or a soak')]])
    const six = ['B1', 'B2', 'B3', 'B4', 'B5', 'B6'].map((step) => ({ ...RAIL, ...HOME, step }))
    expect(flawsOf(...six)).toEqual([[6, 'touch at home', 'Open 5 checks for home at most. B6 is one more.']])
    expect(flawsOf(...six.slice(1))).toEqual([])
  })
})

describe('what a buyer repeats', () => {
  const result = (check: string, change: Partial<CertificateResult> = {}) =>
    ({ check, kind: 'measure', unit: 'V', caution: null, ...change }) as CertificateResult
  const home = { touch: '', needs: '', signs: 'No hum.' }

  test('is what the maker opened, with or without a caution, and nothing else', () => {
    const results = [result('B1'), result('B2', { home, caution: 'Hot.' }), result('B3'), result('B4', { home, unit: 'mV rms' })]
    expect(checksForHome(results)).toEqual(['B2', 'B4'])
  })
  test('is nothing while what the maker opened was not read yet', () => {
    expect(checksForHome([result('B1'), result('B3')], true)).toEqual([])
  })
  test('is told with the caution first', () => {
    expect(homeLines({ home: { touch: 'The loop.', needs: 'A meter.', signs: '' }, caution: 'Hot.' })).toEqual([
      { name: 'Caution', words: 'Hot.' },
      { name: 'You need', words: 'A meter.' },
      { name: 'Where to touch', words: 'The loop.' },
    ])
    expect(homeLines({ caution: 'Hot.' })).toEqual([])
  })
  test('is found without a meter by yes or no, where its maker says what to look for', () => {
    const check: HomeCheck = {
      check: 'B10',
      title: 'Hum',
      kind: 'measure',
      shown: '0.50',
      value: 0.5,
      unit: 'mV rms',
      nominal: null,
      lower: null,
      upper: 2,
      doubt: null,
      plain: null,
      verdict: 'pass',
    }
    expect(compareAtHome({ ...check, home }, ' Yes ', '')).toMatchObject({ ok: true, found: { agrees: true, shown: 'as described' } })
    expect(compareAtHome({ ...check, home }, 'no', '')).toMatchObject({ ok: true, found: { agrees: false } })
    expect(compareAtHome(check, 'no', '')).toMatchObject({ ok: false })
  })
})
