import { describe, expect, test } from 'vitest'
import { readImport, readPartsImport } from '#bench/designs/import.rules'
import { openStage } from '#test/stage'

const against = { checks: [], blocks: ['supply', 'audio'] }
const read = (text: string, choice = {}) => readPartsImport(text, against, { block: 'audio', ...choice })
const words = (text: string, choice = {}) => read(text, choice).flaws.map(({ line, column, words }) => `${line} ${column}: ${words}`)
const understood = (text: string, choice = {}) => read(text, choice).sheet.rows.map((row) => row.understood)

describe('a list as layout programs save it', () => {
  test.each([
    ['a row a part', 'Reference,Value,Footprint,Qty\nC1,100n,parts:C_0805_2012,1\nR1,4k7,parts:R_0805_2012,1'],
    ['in another order', 'Qty;Footprint;Value;References\n1;parts:C_0805_2012;100n;C1\n1;parts:R_0805_2012;4k7;R1'],
    ['with other trade words', '"Quantity per board","Ref Des","Val","Land Pattern"\n1,C1,100n,C_0805_2012\n1,R1,4k7,R_0805_2012'],
    ['in another language', 'Referenz;Wert;Gehäuse;Anzahl\nC1;100n;0805;1\nR1;4k7;0805;1'],
  ])('%s needs no column renamed', (_what, text) => {
    expect(words(text)).toEqual([])
    expect(understood(text)).toEqual(['C1 · 1 × 100 nF capacitor, 0805 · audio', 'R1 · 1 × 4.7 kΩ resistor, 0805 · audio'])
  })

  const odd = 'Zeile,Teil am Platz,Comment,Shape\n1,C1,100n,C_0805_2012\n2,"R1, R2",4k7,R_0805_2012'

  test('columns that nobody knows are guessed by what stands in them, and the guess is asked about', () => {
    expect(understood(odd)).toEqual(['C1 · 1 × 100 nF capacitor, 0805 · audio', 'R1, R2 · 2 × 4.7 kΩ resistor, 0805 · audio'])
    expect(words(odd)).toEqual([
      expect.stringContaining(
        '0 designators: “Teil am Platz” was taken for the designators: what stands in it reads as designators. Is it so?',
      ),
      expect.stringContaining('0 value: “Comment” was taken for the value'),
      expect.stringContaining('0 package: “Shape” was taken for the package'),
    ])
  })

  test('once it is said that they are right, nothing is asked', () => {
    expect(words(odd, { columns: ['', 'designators', 'value', 'package'] })).toEqual([])
  })

  test('a slip in one of three values does not hide the column of values, and a part without its value is asked about', () => {
    const { sheet } = read('Teil,Comment\nC1,10u/16V\nR1,4kk7\nC2,100nF X7R')
    expect(sheet.columns[1]).toMatchObject({ column: 'value' })
    const bare = read('Teil,Comment\nC1,10u', { columns: ['designators', ''] }).sheet.rows[0]
    expect(bare?.hint).toContain('No value is given for this capacitor')
  })

  test('a list without a heading is seen to have none', () => {
    const { sheet, flaws } = read('C1,100n,parts:C_0805_2012\nR1,4k7,parts:R_0805_2012')
    expect(sheet.hasHeading).toBe(false)
    expect(sheet.rows).toHaveLength(2)
    expect(flaws.map(({ column }) => column)).toEqual(['designators', 'value', 'package'])
  })

  test('of two columns for one thing the better heading is taken, and the other is left out', () => {
    const { sheet, flaws } = read('Reference,Value,Part,Description\nU1,,PLD-22,a logic device')
    expect(flaws).toEqual([])
    expect(sheet.columns[3]).toMatchObject({ column: null, guess: '“Part” was taken for the part already' })
  })
})

describe('what stands in a cell', () => {
  const HEAD = 'designators,value,package,rating'
  const one = (row: string) => read(`${HEAD}\n${row}`)
  test.each([
    ['C1,10u/16V,radial,', 'C1 · 1 × 10 µF capacitor, radial, 16V · audio'],
    ['C1,100nF X7R,0805,', 'C1 · 1 × X7R capacitor 100 nF, 0805 · audio'],
    ['C1,"100n, 50V, C0G",0805,', 'C1 · 1 × C0G capacitor 100 nF, 0805, 50V · audio'],
    ['C1,X7R 100 nF 50 V 10% 0805,,', 'C1 · 1 × X7R capacitor 100 nF, 0805, 50V 10% · audio'],
    ['R1,4k7 1% 1/4W,axial,', 'R1 · 1 × 4.7 kΩ ±1 % resistor, axial, 1/4W · audio'],
    ['LED1,red,radial,', 'LED1 · 1 × diode red, radial · audio'],
    ['H1,,M3,', 'H1 · 1 × other, M3 · audio'],
  ])('%s', (row, expected) => {
    const { sheet, flaws } = one(row)
    expect(flaws).toEqual([])
    expect(sheet.rows[0]?.understood).toBe(expected)
  })

  test('what was taken out of a value is asked about', () => {
    expect(one('C1,10u/16V,radial,').sheet.rows[0]?.hint).toContain('"10u/16V" was taken apart: 10 µF, and 16V.')
  })

  test('what is none of value, rating, size and technology is named, and nothing is dropped', () => {
    expect(words(`${HEAD}\nC1,100n wibble,radial,`).join()).toContain('2 value: "100n" is the value; what "wibble" means beside it')
  })

  test('a size in the value that is not the package is refused', () => {
    expect(words(`${HEAD}\nC1,100n 0603,0805,`).join()).toContain('The value says 0603, the package 0805')
  })

  test('letters of no list are taken as another part, and asked about', () => {
    const { sheet, flaws } = one('ZZ1,thing,,')
    expect(flaws).toEqual([])
    expect(sheet.rows[0]?.hint).toContain('ZZ is in no list of class letters')
  })
})

describe('rows are mended where they are shown', () => {
  const text = 'designators,value\nR1,4kk7\nnonsense,10k'
  test('a cell that is meant otherwise is read as it is meant, with what stands in the file beside it', () => {
    const mends = [
      { line: 2, column: 'value', text: '4k7' },
      { line: 3, column: 'designators', text: 'R2' },
    ]
    expect(words(text)).toHaveLength(2)
    const { sheet, flaws } = read(text, { mends })
    expect(flaws).toEqual([])
    expect(sheet.rows[0]).toMatchObject({ cells: { designators: 'R1', value: '4k7' }, written: { value: '4kk7' } })
    expect(sheet.rows[1]).toMatchObject({ written: { designators: 'nonsense' } })
  })

  test('a mend of a line or a column that is not there changes nothing', () => {
    expect(words(text, { mends: [{ line: 9, column: 'value', text: '1k' }] })).toHaveLength(2)
    expect(words(text, { mends: [{ line: 2, column: 'taste', text: '1k' }] })).toHaveLength(2)
  })
})

describe('four columns make a checklist', () => {
  const CHECKLIST = `stage,check,unit,limits
cold,Supply to ground,kΩ,at least 0.5
cold,Sockets the right way round,wrong,0
rails,5 V rail,V,5 ± 5 %
rails,-12 V rail,V,-12.6 .. -11.4
function,Ripple,mV,<= 20 mV
function,It counts,,`
  const whole = (checklist: string) => readImport({ checklist, partsList: 'designators,value\nR1,4k7', feeds: '' })

  test('the rest is worked out, and asked about', () => {
    const { flaws, draft, sheets } = whole(CHECKLIST)
    expect(flaws).toEqual([])
    expect(draft.checks.map(({ key, kind, lower, upper, isPowered, after }) => [key, kind, lower, upper, isPowered, after])).toEqual([
      ['C1', 'measure', 0.5, null, false, []],
      ['C2', 'count', 0, 0, false, ['C1']],
      ['R1', 'measure', 4.75, 5.25, true, ['C2']],
      ['R2', 'measure', -12.6, -11.4, true, ['R1']],
      ['F1', 'measure', null, 20, true, ['R2']],
      ['F2', 'yesno', null, null, true, ['F1']],
    ])
    expect(draft.blocks).toEqual(['whole unit'])
    expect(sheets[0]?.rows[0]?.hint).toContain('Taken as made with the power off: cold; all others with the power on.')
  })

  test.each([
    ['stage', CHECKLIST.replace('stage,', 'area,')],
    ['title', CHECKLIST.replace(',check,', ',thing,')],
    ['unit', CHECKLIST.replace(',unit,', ',thing,')],
    ['limits', CHECKLIST.replace(',limits', ',thing')],
  ])('none goes without its %s', (column, text) => {
    expect(whole(text).flaws.map(({ words }) => words)).toContainEqual(expect.stringContaining(`There is no column "${column}"`))
  })

  test('limits that are none are refused at their row', () => {
    const { flaws } = whole(CHECKLIST.replace('at least 0.5', 'plenty'))
    expect(flaws[0]).toMatchObject({ line: 2, column: 'limits', words: expect.stringContaining('"plenty" are no limits') })
  })
})

test('positions that are not fitted are kept, and neither fitted nor asked for', async () => {
  const stage = openStage()
  try {
    const maker = await stage.as('maker')
    const lists = {
      checklist: { text: 'stage,check,unit,limits\nrails,Rail,V,4.8 to 5.2' },
      partsList: { text: 'designators,value,not fitted,notes\nR1,4k7,,\nR2,10k,dnp,for a later board\nC1,DNP,,' },
      feeds: { text: '' },
    }
    const { designId } = await maker.designs.import({ key: 'wren', name: 'Wren', revision: 'A', decisionRule: 'simple', ...lists })
    const design = await maker.designs.get({ id: designId })
    expect(design.positions.map(({ designator }) => designator)).toEqual(['R1'])
    expect(design.leftEmpty.map(({ designators, notes }) => [designators, notes])).toEqual([
      [['R2'], 'for a later board'],
      [['C1'], ''],
    ])
    const { text } = await maker.designs.partsListFile({ id: designId })
    expect(await maker.designs.importParts({ designId, partsList: { text } })).toEqual({ designId, outcome: 'unchanged' })
  } finally {
    stage.close()
  }
})
