import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { downstreamOf } from '#bench/designs/blocks.rules'
import { readImport } from '#bench/designs/import.rules'

const KEYS = ['saltmarsh-sr3', 'copperbeech-v1', 'tidemill-lc6', 'samphire-fc8']
const file = (name: string) => readFileSync(join(import.meta.dirname, '../../../seed/designs', name))

const CHECKLIST = `step,stage,hold,title,kind,nominal,lower,upper,unit,after,exercises,powered,minutes,hours,starts
K1,cold,hold,12 V to 0 V cold,measure,2.2,0.5,,kΩ,,supply,n,2,,
R1,rails,hold,Regulated rail,measure,8.0,7.7,8.3,V,K1,rail,y,1,,
A1,function,,Output,measure,1.0,0.7,1.5,V rms,R1,audio,y,3,,
Z1,soak,hold,Soak,soak,0,,0,faults,A1,audio,y,720,12,6`
const PARTS = `designators,value,quantity,blocks,after
"R1-R3, R7",4k7,4,audio,
C1,100n,1,supply;rail,
U2,,1,audio,R1`
const FEEDS = `from,to,kind
supply,rail,power
rail,audio,power`

const read = (over: Partial<Record<'checklist' | 'partsList' | 'feeds', string | Uint8Array>> = {}) =>
  readImport({ checklist: CHECKLIST, partsList: PARTS, feeds: FEEDS, ...over })
const flaws = (over: Parameters<typeof read>[0]) =>
  read(over)
    .flaws.map(({ list, line, column, words }) => `${list} ${line} ${column}: ${words}`)
    .join('\n')

describe('the four machines', () => {
  it.each(KEYS)('%s is read without a flaw', (key) => {
    const { flaws: found, draft } = readImport({
      checklist: file(`${key}-checklist.csv`),
      partsList: file(`${key}-parts.csv`),
      feeds: file(`${key}-feeds.csv`),
    })
    expect(found).toEqual([])
    expect(draft.checks.length).toBeGreaterThan(25)
    expect(draft.lines.length).toBeGreaterThan(20)
    expect([...downstreamOf(['assembly'], draft.feeds)]).toContain('whole unit')
  })
})

describe('a list is read as it comes', () => {
  it('from a spreadsheet, with tabs, other words for the columns and decimal commas', () => {
    const pasted = CHECKLIST.replace('lower,upper', 'min,max')
      .replaceAll(',', '\t')
      .replaceAll(/(\d)\.(\d)/g, '$1,$2')
    const { sheets, flaws: found, draft } = read({ checklist: pasted })
    expect(found).toEqual([])
    expect(sheets[0]).toMatchObject({ delimiter: 'tab', encoding: 'pasted' })
    expect(sheets[0]?.columns[6]).toMatchObject({ heading: 'min', column: 'lower' })
    expect(draft.checks[1]).toMatchObject({ key: 'R1', lower: 7.7, upper: 8.3, isHold: true, after: ['K1'], decimals: 1 })
  })

  it('with semicolons, in Windows-1252, with the byte for µ that UTF-8 does not know', () => {
    const western = CHECKLIST.replaceAll(',', ';').replace('kΩ', 'k').replace('Output', 'Outp\u00B5t')
    const { sheets, draft } = read({ checklist: Uint8Array.from(western, (character) => character.charCodeAt(0)) })
    expect(sheets[0]).toMatchObject({ delimiter: 'semicolon', encoding: 'Windows-1252' })
    expect(draft.checks[2]?.title).toBe('Outpµt')
  })

  it('with a byte order mark and Windows line ends', () => {
    const bytes = new TextEncoder().encode(`\uFEFF${CHECKLIST.replaceAll('\n', '\r\n')}\r\n`)
    expect(read({ checklist: bytes })).toMatchObject({ flaws: [], sheets: [{ encoding: 'UTF-8' }, {}, {}] })
  })

  it('and shows with every row what was understood', () => {
    const { sheets } = read()
    expect(sheets[0]?.rows[1]?.understood).toBe('R1 · rails, hold point, gates power · Regulated rail · 7.7 to 8.3 V · after K1')
    expect(sheets[1]?.rows[0]?.understood).toBe('R1-R3, R7 · 4 × 4.7 kΩ resistor · audio')
    expect(sheets[2]?.rows[0]?.understood).toBe('supply gives power to rail')
  })
})

describe('what is wrong is said by line and column', () => {
  it.each([
    ['an unknown step', { checklist: CHECKLIST.replace('V,K1', 'V,K9') }, 'checklist 3 after: K9 is not a step of this list'],
    [
      'an unknown block',
      { checklist: CHECKLIST.replace('K1,rail', 'K1,rial') },
      'checklist 3 exercises: "rial" is not in the list of feeds',
    ],
    ['an unknown kind', { checklist: CHECKLIST.replace('Output,measure', 'Output,guess') }, 'checklist 4 kind: "guess" is not a kind'],
    ['a missing column', { checklist: CHECKLIST.replace(',title,', ',area,') }, 'checklist 1 title: There is no column "title"'],
    [
      'a doubled column',
      { checklist: CHECKLIST.replace(',minutes,', ',unit,') },
      'checklist 1 unit: Two columns were both taken for "unit"',
    ],
    [
      'limits the wrong way round',
      { checklist: CHECKLIST.replace('7.7,8.3', '8.3,7.7') },
      'checklist 3 upper: The upper limit 7.7 is below',
    ],
    ['no limit at all', { checklist: CHECKLIST.replace('2.2,0.5,', '2.2,,') }, 'checklist 2 lower: Give at least one limit'],
    ['a figure with its unit', { checklist: CHECKLIST.replace('8.0,', '8.0 V,') }, 'checklist 3 nominal: "8.0 V" is not a figure'],
    ['a figure beyond reason', { checklist: CHECKLIST.replace('8.0,', '1e308,') }, 'checklist 3 nominal: "1e308" is not a figure'],
    ['a step twice', { checklist: CHECKLIST.replace('A1,', 'R1,') }, 'checklist 4 step: R1 is already on line 3'],
    ['a soak without hours', { checklist: CHECKLIST.replace('720,12', '720,') }, 'checklist 5 hours: A soak needs its hours'],
    ['an open quotation mark', { checklist: `${CHECKLIST}\n"A2,` }, 'A quotation mark is open'],
    [
      'a comma without quotes',
      { checklist: CHECKLIST.replace('Output', 'Output, loud') },
      'checklist 4 : This row has 16 cells, the heading 15',
    ],
    ['an empty list', { checklist: '  ' }, 'checklist 0 : The list is empty'],
    ['only a heading', { feeds: 'from,to,kind' }, 'feeds 1 : There are no rows below the heading'],
    ['not a list at all', { checklist: new Uint8Array([0x89, 0x50, 0x4e, 0x47, 0, 1]) }, 'checklist 0 : That is not a text file'],
    ['a value that is none', { partsList: PARTS.replace('4k7', '4kk7') }, 'partsList 2 value: "4kk7" is not a value'],
    ['a quantity of −1', { partsList: PARTS.replace(',,1,audio', ',,-1,audio') }, 'partsList 4 quantity: "-1" is not a quantity'],
    [
      'a quantity that does not count',
      { partsList: PARTS.replace('4k7,4', '4k7,5') },
      'partsList 2 quantity: The quantity is 5, but 4 designators',
    ],
    ['a designator twice', { partsList: PARTS.replace('C1,', 'R2,') }, 'partsList 3 designators: R2 is used on lines 2 and 3'],
    [
      'a designator that is none',
      { partsList: PARTS.replace('C1,', 'nonsense,') },
      'partsList 3 designators: "NONSENSE" is not a designator',
    ],
    [
      'a position after no step',
      { partsList: PARTS.replace('audio,R1', 'audio,X1') },
      'partsList 4 after: X1 is not a step of the checklist',
    ],
    ['a feed of neither kind', { feeds: FEEDS.replace('audio,power', 'audio,water') }, 'feeds 3 kind: "water" is neither power nor signal'],
    ['a supply that powers itself', { feeds: `${FEEDS}\naudio,supply,power` }, 'feeds 2 from: supply would power itself in a loop'],
    ['a block no check reaches', { feeds: `${FEEDS}\naudio,lamp,signal` }, 'feeds 4 from: No check would find a fault in "lamp"'],
  ])('%s', (_what, over, expected) => {
    expect(flaws(over)).toContain(expected)
  })

  it('a circle is named with its chain', () => {
    const rows = CHECKLIST.replace(',kΩ,,', ',kΩ,A1,')
    expect(flaws({ checklist: rows })).toContain('K1 needs A1 needs R1 needs K1: none of these could ever be taken')
  })

  it('a hold point that waits for what it stops is a circle too', () => {
    const rows = CHECKLIST.replace('V,K1,rail', 'V,K1 A1,rail').replace('V rms,R1', 'V rms,K1')
    expect(flaws({ checklist: rows })).toContain('R1 needs A1 is held by R1: none of these could ever be taken')
  })

  it('a list with one flaw keeps the flaws of the others in view', () => {
    const found = read({
      checklist: CHECKLIST.replace('V,K1', 'V,K9'),
      partsList: PARTS.replace('4k7', 'x'),
      feeds: FEEDS.replace('power', 'water'),
    })
    expect(new Set(found.flaws.map((one) => one.list))).toEqual(new Set(['checklist', 'partsList', 'feeds']))
  })
})
