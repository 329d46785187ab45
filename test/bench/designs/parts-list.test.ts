import fc from 'fast-check'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { readPartsImport } from '#bench/designs/import.rules'
import { PARTS_LIST_HEAD, partsListRow } from '#bench/designs/write-parts-list.rules'
import { writeCsv } from '#kernel/csv'
import { PART_KINDS, type PartIn, type PartKind } from '#stock/catalogue/part.contract'
import { readPart } from '#stock/catalogue/part.rules'
import { openStage, type Stage } from '#test/stage'

const BLOCKS = ['supply', 'audio']
const against = { checks: [], blocks: BLOCKS }
const read = (text: string, choice = {}) => readPartsImport(text, against, choice)
const understood = (text: string, choice = {}) => read(text, choice).sheet.rows.map((row) => row.understood)
const flaws = (text: string, choice = {}) => read(text, choice).flaws.map(({ line, column, words }) => `${line} ${column}: ${words}`)

const HEAD = 'designators,value,quantity,blocks,after,package,substitutes'

describe('what is found out about a list', () => {
  const text = `${HEAD}\nR1-R4,4k7,4,audio,,axial,\nC1,10 µF,1,supply,,radial,`
  const utf16 = (order: 'le' | 'be', mark: boolean) => {
    const bytes = Buffer.from(`${mark ? '\uFEFF' : ''}${text}`, 'utf16le')
    return new Uint8Array(order === 'le' ? bytes : bytes.swap16())
  }
  test.each([
    ['UTF-8', new TextEncoder().encode(text), 'UTF-8'],
    ['UTF-8 with its mark', new TextEncoder().encode(`\uFEFF${text}`), 'UTF-8'],
    ['Windows-1252', new Uint8Array(Buffer.from(text, 'latin1')), 'Windows-1252'],
    ['UTF-16, low byte first', utf16('le', true), 'UTF-16'],
    ['UTF-16, high byte first', utf16('be', true), 'UTF-16'],
    ['UTF-16 without a mark', utf16('le', false), 'UTF-16'],
    ['a paste', text, 'pasted'],
  ])('%s', (_what, source, encoding) => {
    const { sheet, flaws: wrong } = readPartsImport(source, against)
    expect(wrong).toEqual([])
    expect(sheet.encoding).toBe(encoding)
    expect(sheet.rows[1]?.understood).toContain('10 µF capacitor')
  })

  test('a title and an empty line may stand above the heading', () => {
    expect(understood(`Tidemill, parts\n\n${HEAD}\nR1,4k7,1,audio,,axial,`)).toEqual(['R1 · 1 × 4.7 kΩ resistor, axial · audio'])
  })

  test('a list that only names references, values and footprints is enough, with the block of its rows', () => {
    expect(understood('Reference\tValue\tFootprint\nC1, C2\t100n\tradial', { block: 'supply' })).toEqual([
      'C1, C2 · 2 × 100 nF capacitor, radial · supply',
    ])
  })

  test('without a heading the columns can be said', () => {
    const choice = { hasHeading: false, columns: ['designators', 'value', '', 'blocks'], delimiter: 'semicolon' as const }
    expect(understood('R1;4k7;reel 3;audio\nR2;10k;reel 4;audio', choice)).toEqual([
      'R1 · 1 × 4.7 kΩ resistor · audio',
      'R2 · 1 × 10 kΩ resistor · audio',
    ])
  })

  test('a column that was taken for the wrong thing can be given another', () => {
    const text = 'designators,type,value,blocks\nU1,4k7,PLD-22,audio'
    expect(understood(text, { columns: ['designators', 'value', 'part', 'blocks'] })[0]).toContain('PLD-22')
  })
})

describe('what a line is asked', () => {
  const hint = (row: string) => read(`${HEAD}\n${row}`).sheet.rows[0]?.hint
  test('a value in no series', () => expect(hint('R1,4k8,1,audio,,axial,')).toBe('4k8 is in no series up to E96; 4k7?'))
  test('letters that the standard does not have', () => expect(hint('IC1,,1,audio,,DIP-8,')).toContain('The standard has U'))
  test('nothing, where nothing is odd', () => expect(hint('R1,4k7,1,audio,,axial,')).toBeNull())
})

describe('substitutes', () => {
  const row = (cell: string) => `${HEAD}\nR1,4k7,1,audio,,axial,${cell}`
  test('are read with their packages, the preferred first', () => {
    expect(understood(row('4k7 | 0805; 5k1'))).toEqual([
      'R1 · 1 × 4.7 kΩ resistor, axial, or 4.7 kΩ resistor, 0805, or 5.1 kΩ resistor, axial · audio'.replace('axial, or', 'axial · or'),
    ])
  })
  test.each([
    ['the part itself', '4k7', 'named twice on this line, or is the part itself'],
    ['one twice', '5k1; 5k1', 'named twice'],
    ['a value that is none', '5kk1', '"5kk1" is not a value'],
    ['too many fields', 'a | b | c | d | e', 'more than value or name'],
    ['no name', '| 0805', 'A substitute has no name'],
  ])('%s is refused at its line', (_what, cell, words) => {
    expect(flaws(row(cell)).join()).toContain(`2 substitutes: `)
    expect(flaws(row(cell)).join()).toContain(words)
  })
})

// Text that a maker might write, and what a spreadsheet makes of formulas, quotes, bars and semicolons.
const words = fc
  .array(fc.constantFrom('chip', 'Z80', '=1+1', '"x"', 'a;b', 'c|d', '\\', 'Ω', '-5 V', '4,7', '@', "'"), { minLength: 1, maxLength: 3 })
  .map((some) => some.join(' '))
const kinds = fc.constantFrom<PartKind[]>(...PART_KINDS) as fc.Arbitrary<PartKind>
const VALUES: Partial<Record<PartKind, string[]>> = {
  resistor: ['4k7', 'R47', '1M5 1 %', '10k J', '0R'],
  capacitor: ['100n', '104Z', 'p33', '4p7C', '10 µF'],
  inductor: ['10 µH', '4R7'],
  crystal: ['32.768 kHz'],
  fuse: ['500 mA'],
}
const part = kinds.chain((kind) =>
  fc
    .record({
      name: words,
      value: fc.constantFrom(...(VALUES[kind] ?? ['', '3 V', 'red'])),
      package: fc.oneof(fc.constant(''), words),
      rating: fc.oneof(fc.constant(''), words),
    })
    .map((row) => {
      const reading = readPart({ kind, ...row })
      const traits = { programmed: false, socketed: false, hardToFind: false, imageSha256: null, idcode: null }
      return { kind, ...row, ...traits, value: reading.ok ? reading.value : '', sameness: reading.ok ? reading.sameness : '' }
    }),
)
const LETTERS = ['R', 'C', 'U', 'Q', 'A']
const line = fc.tuple(
  part,
  fc.array(part, { maxLength: 3 }),
  words,
  fc.subarray(BLOCKS, { minLength: 1 }),
  fc.integer({ min: 1, max: 600 }),
)
const sameness = ({ kind, name, value, package: size, rating, programmed }: Omit<PartIn, 'imageSha256' | 'idcode'>) => {
  const reading = readPart({ kind, name, value, package: size, rating, programmed })
  return reading.ok ? reading.sameness : 'unreadable'
}

test('a parts list that is exported and read again says the same, line by line', () => {
  fc.assert(
    fc.property(fc.array(line, { minLength: 1, maxLength: 5 }), (rows) => {
      const listed = rows.map(([own, instead, notes, blocks, count], index) => {
        const seen = new Set([own.sameness])
        const substitutes = instead
          .map((one) => ({ ...one, kind: own.kind }))
          .filter((one) => {
            const same = sameness(one)
            if (same === 'unreadable' || seen.has(same)) return false
            seen.add(same)
            return true
          })
        const designators = Array.from({ length: count }, (_, at) => `${LETTERS[index]}${at * (index + 1) + 1}`)
        return { designators, part: own, quantity: count, blocks, fittedAfter: null, notes, substitutes }
      })
      const { flaws: wrong, lines } = read(writeCsv(PARTS_LIST_HEAD, listed.map(partsListRow)))
      expect(wrong).toEqual([])
      for (const [index, row] of lines.entries()) {
        const was = listed[index]
        expect([...row.designators].sort()).toEqual([...(was?.designators ?? [])].sort())
        expect(row.blocks).toEqual(was?.blocks)
        expect(row.notes).toBe(was?.notes.trim())
        expect(sameness(row.part)).toBe(was && sameness(was.part))
        expect(row.part.name).toBe(was?.part.name.trim())
        expect(row.substitutes.map(sameness)).toEqual(was?.substitutes.map(sameness))
      }
    }),
    { numRuns: 50 },
  )
})

describe('a parts list of its own', () => {
  let stage: Stage
  beforeEach(() => {
    stage = openStage()
  })
  afterEach(() => stage.close())

  const CHECKLIST =
    'step,stage,hold,title,kind,nominal,lower,upper,unit,after,exercises,powered,minutes\nK1,rails,n,Rail,measure,5,4.8,5.2,V,,audio,y,3'
  const FEEDS = 'from,to,kind\nsupply,audio,power'
  const PARTS = `${HEAD}\nR1-R4,4k7,4,audio,,axial,\nC1,100n,1,supply,K1,radial,`

  async function design() {
    const maker = await stage.as('maker')
    const lists = { checklist: { text: CHECKLIST }, partsList: { text: PARTS }, feeds: { text: FEEDS } }
    const { designId } = await maker.designs.import({ key: 'tidemill', name: 'Tidemill', revision: 'A', decisionRule: 'simple', ...lists })
    return { maker, designId }
  }

  test('exported and imported again it changes nothing, substitutes that were accepted since included', async () => {
    const { maker, designId } = await design()
    const [line] = (await maker.designs.get({ id: designId })).lines
    const { part: other } = await maker.parts.add({ kind: 'resistor', name: 'resistor', value: '5k1', package: 'axial' })
    await maker.designs.accept({ lineId: line?.id ?? '', partId: other.id, reason: 'only sets a brightness' })
    const { text } = await maker.designs.partsListFile({ id: designId })
    expect(await maker.designs.importParts({ designId, partsList: { text } })).toEqual({ designId, outcome: 'unchanged' })
    const [kept] = await maker.designs.substitutes({ id: designId })
    expect(kept).toMatchObject({ lineId: line?.id, parts: [{ part: { id: other.id }, reason: 'only sets a brightness' }] })
  })

  test('a changed list replaces the old one; while units are built it wants a new revision, with the same checklist', async () => {
    const { maker, designId } = await design()
    const changed = { text: PARTS.replace('4k7', '5k1') }
    expect((await maker.designs.importParts({ designId, partsList: changed })).outcome).toBe('replaced')
    await maker.bringup.makeRun({ designId, tagPrefix: 'WREN', count: 1 })
    const again = { text: PARTS.replace('4k7', '6k8') }
    await expect(maker.designs.importParts({ designId, partsList: again })).rejects.toThrow('Give the changed lists a new revision')
    const next = await maker.designs.importParts({ designId, partsList: again, revision: 'B' })
    expect(next.outcome).toBe('stored')
    expect((await maker.designs.get({ id: next.designId })).checks.map(({ key }) => key)).toEqual(['K1'])
  })

  test('one wrong line, and nothing is stored', async () => {
    const { maker, designId } = await design()
    const before = await maker.designs.get({ id: designId })
    const wrong = { text: `${PARTS}\nR9,4kk7,1,audio,,axial,` }
    await expect(maker.designs.importParts({ designId, partsList: wrong })).rejects.toThrow('Parts list, line 4: "4kk7" is not a value')
    expect(await maker.designs.get({ id: designId })).toEqual(before)
  })

  test('a substitute may be fitted, and nothing else; of another kind it is not accepted', async () => {
    const { maker, designId } = await design()
    const [line] = (await maker.designs.get({ id: designId })).lines
    const { part: other } = await maker.parts.add({ kind: 'resistor', name: 'resistor', value: '5k1', package: 'axial' })
    const { part: chip } = await maker.parts.add({ kind: 'chip', name: 'Timer' })
    const wrong = maker.designs.accept({ lineId: line?.id ?? '', partId: chip.id, reason: 'none left' })
    await expect(wrong).rejects.toThrow('A chip cannot stand for a resistor')
    await maker.bringup.makeRun({ designId, tagPrefix: 'WREN', count: 1 })
    const batch = await maker.shelf.buy({ partId: other.id, boughtFrom: 'Corner Electronics', quantity: 10 })
    const putIn = () =>
      maker.bringup.fit({
        key: `fit-${Math.random()}-key`,
        tag: 'WREN-01',
        seen: 'WREN-01',
        designators: ['R1'],
        batchId: batch.id,
        iron: true,
        confirmUndo: false,
      })
    await expect(putIn()).rejects.toThrow('R1 takes 4.7 kΩ resistor, axial;')
    const { part: strong } = await maker.parts.add({ kind: 'resistor', name: 'resistor', value: '4k7', package: 'axial', rating: '2 W' })
    const stronger = await maker.shelf.buy({ partId: strong.id, boughtFrom: 'Corner Electronics', quantity: 1 })
    const standIn = (confirmInstead: boolean) =>
      maker.bringup.fit({
        key: `stand-in-${confirmInstead}-key`,
        tag: 'WREN-01',
        seen: 'WREN-01',
        designators: ['R2'],
        batchId: stronger.id,
        iron: true,
        confirmInstead,
      })
    await expect(standIn(false)).rejects.toThrow('By its figures it may stand in: it is for 2 W, and the list names none.')
    expect((await standIn(true)).designators).toEqual(['R2'])
    await maker.designs.accept({ lineId: line?.id ?? '', partId: other.id, reason: 'only sets a brightness' })
    expect((await putIn()).designators).toEqual(['R1'])
    const [unit] = (await maker.buildable.now()).designs[0]?.units ?? []
    expect(unit?.lines.find(({ lineId }) => lineId === line?.id)).toMatchObject({ there: 2, instead: 2, missing: 0 })
  })
})
