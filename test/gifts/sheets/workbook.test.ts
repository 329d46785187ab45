import { buffer } from 'node:stream/consumers'
import { deflateRawSync } from 'node:zlib'
import { describe, expect, test } from 'vitest'
import { ZipFile } from 'yazl'
import { reads } from './sheets-of'

async function zipped(files: Record<string, string | Buffer>): Promise<Uint8Array> {
  const zip = new ZipFile()
  for (const [name, content] of Object.entries(files)) zip.addBuffer(Buffer.from(content), name)
  zip.end()
  return new Uint8Array(await buffer(zip.outputStream))
}

const RELS =
  '<Relationships><Relationship Id="rId1" Target="worksheets/sheet1.xml"/><Relationship Id="rId2" Target="/xl/worksheets/sheet2.xml"/></Relationships>'
const office = (rows: string, more: Record<string, string> = {}) =>
  zipped({
    'xl/workbook.xml':
      '<workbook xmlns:r="x"><sheets><sheet name="Gifts" r:id="rId1"/><sheet name="Other" r:id="rId2"/></sheets></workbook>',
    'xl/_rels/workbook.xml.rels': RELS,
    'xl/sharedStrings.xml':
      '<sst><si><t>name</t></si><si><r><t>Ines </t></r><r><t>Abreu</t></r><rPh><t>never</t></rPh></si><si><t>gift</t></si><si><t>day</t></si><si><t>quantity</t></si></sst>',
    'xl/styles.xml':
      '<styleSheet><numFmts><numFmt numFmtId="164" formatCode="yyyy\\-mm\\-dd"/></numFmts><cellStyleXfs><xf numFmtId="14"/></cellStyleXfs><cellXfs><xf numFmtId="0"/><xf numFmtId="164"/></cellXfs></styleSheet>',
    'xl/worksheets/sheet1.xml': `<worksheet><sheetData>${rows}</sheetData></worksheet>`,
    ...more,
  })

const HEAD =
  '<row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1" t="s"><v>2</v></c><c r="C1" t="s"><v>4</v></c><c r="D1" t="s"><v>3</v></c></row>'

describe('Office Open XML', () => {
  // 46156 is 2026-05-14: ECMA-376 part 1, 18.17.4.1 counts 2008-01-01 as 39448, and 6708 days lie between.
  const ROW =
    '<row r="4"><c r="A4" t="s"><v>1</v></c><c r="B4" t="inlineStr"><is><t>a "case"</t></is></c><c r="C4"><f>1+1</f><v>2</v></c><c r="D4" s="1"><v>46156</v></c></row>'

  test('cells are read as they show: shared and own texts, what a formula came to, days', async () => {
    const { plan, flaws } = await reads('donors', await office(HEAD + ROW), { answers: { thanked: 'yes' } })
    expect(flaws).toEqual([])
    expect(plan).toEqual([
      expect.objectContaining({ is: 'donor', name: 'Ines Abreu' }),
      expect.objectContaining({ day: '2026-05-14', gifts: [expect.objectContaining({ words: 'a "case"', quantity: 2 })] }),
    ])
  })

  test('lines are those of the sheet', async () => {
    const { flaws } = await reads('donors', await office(`${HEAD}<row r="7"><c r="B7" t="inlineStr"><is><t>case</t></is></c></row>`), {
      answers: { above: 'no' },
    })
    expect(flaws[0]?.line).toBe(7)
  })

  test('of several sheets it is asked which', async () => {
    const two = await office(HEAD + ROW, { 'xl/worksheets/sheet2.xml': `<worksheet><sheetData>${HEAD}</sheetData></worksheet>` })
    const { questions } = await reads('donors', two)
    expect(questions[0]).toMatchObject({ key: 'worksheet', options: [{ value: 'Gifts' }, { value: 'Other' }] })
  })
})

test('OpenDocument: days by their value, repeated cells, no notes', async () => {
  const cell = (text: string) => `<table:table-cell office:value-type="string"><text:p>${text}</text:p></table:table-cell>`
  const content = `<office:document-content xmlns:office="o" xmlns:table="t" xmlns:text="x"><table:table table:name="Gifts">
    <table:table-row>${['name', 'gift', 'quantity', 'day'].map(cell).join('')}</table:table-row>
    <table:table-row table:number-rows-repeated="2"><table:table-cell table:number-columns-repeated="1024"/></table:table-row>
    <table:table-row><table:table-cell office:value-type="string"><office:annotation><text:p>secret</text:p></office:annotation><text:p>Ines<text:s/>Abreu</text:p></table:table-cell>${cell('case')}
    <table:table-cell office:value-type="float" office:value="2"><text:p>2,00</text:p></table:table-cell>
    <table:table-cell office:value-type="date" office:date-value="2026-05-14"><text:p>14. Mai</text:p></table:table-cell></table:table-row>
    <table:table-row table:number-rows-repeated="1048572"><table:table-cell table:number-columns-repeated="1024"/></table:table-row>
  </table:table></office:document-content>`
  const { plan, flaws } = await reads('donors', await zipped({ 'content.xml': content }), { answers: { thanked: 'yes' } })
  expect(flaws).toEqual([])
  expect(plan).toEqual([
    expect.objectContaining({ name: 'Ines Abreu' }),
    expect.objectContaining({ day: '2026-05-14', gifts: [expect.objectContaining({ quantity: 2 })] }),
  ])
})

describe('hostile workbooks are refused in words', () => {
  const flawOf = async (file: Uint8Array) => (await reads('donors', file)).flaws[0]?.words ?? null

  test('one that unpacks to more than a table can be', async () => {
    expect(await flawOf(await office(' '.repeat(50_000_000)))).toContain('unpacks to more than')
  })

  test('one that lies about what it unpacks to', async () => {
    const file = await office('x'.repeat(1_000_000))
    const bytes = Buffer.from(file)
    // The size that the list of contents gives for the sheet, made small.
    const size = Buffer.alloc(4)
    size.writeUInt32LE(1_000_000 + '<worksheet><sheetData></sheetData></worksheet>'.length)
    for (let at = bytes.indexOf(size); at >= 0; at = bytes.indexOf(size, at + 1)) bytes.writeUInt32LE(10, at)
    expect(await flawOf(new Uint8Array(bytes))).toContain('damaged')
  })

  test('one with a document type, whose entities would grow', async () => {
    const content = '<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa">]><a/>'
    expect(await flawOf(await zipped({ 'content.xml': content }))).toContain('what no spreadsheet needs')
  })

  test('one whose cells repeat a long text everywhere', async () => {
    const cell = `<t:table-cell t:number-columns-repeated="90" o:value-type="string"><x:p>${'long '.repeat(400)}</x:p></t:table-cell>`
    const content = `<o:d xmlns:o="o" xmlns:t="t" xmlns:x="x"><t:table t:name="x"><t:table-row t:number-rows-repeated="5000">${cell}</t:table-row></t:table></o:d>`
    expect(
      await flawOf(
        await zipped({
          'content.xml': content
            .replaceAll('t:name', 'table:name')
            .replaceAll('t:number', 'table:number')
            .replaceAll('o:value', 'office:value'),
        }),
      ),
    ).toContain('more text than')
  })

  test.each([
    ['an archive of something else', zipped({ 'readme.txt': 'x' })],
    ['damaged bytes', Promise.resolve(new Uint8Array(Buffer.concat([Buffer.from('PK\u0003\u0004'), deflateRawSync(Buffer.alloc(200))])))],
    ['broken XML', zipped({ 'content.xml': '<a><b></a>' })],
  ])('%s', async (_what, file) => {
    expect(await flawOf(await file)).toContain('choose CSV')
  })
})
