import { describe, expect, it } from 'vitest'
import { readImport } from '#bench/designs/import.rules'
import { cellsOf } from '#bench/designs/written.rules'
import { powerGates } from '#bench/units/permitted.rules'
import { undoneBy } from '#bench/units/undo.rules'

const FEEDS = 'from,to,kind\nnetz,ausgang,power'
const PARTS = 'designators,value,quantity,blocks\nR1,4k7,1,netz\nC1,100n,1,ausgang'
const GERMAN = `step,stage,hold,title,kind,nominal,lower,upper,unit,after,exercises,powered,minutes,hours,starts
A1,Sichtprüfung,,Lötstellen,count,0,,0,Fehler,,netz,n,5,,
A2,Kaltmessung,hold,12 V gegen Masse,measure,2.2,0.5,,kΩ,A1,netz,n,2,,
A3,Kaltmessung,,Ausgang gegen Masse,measure,4,1,,kΩ,A1,ausgang,n,2,,
A4,Versorgung,hold,Geregelt,measure,8.0,7.7,8.3,V,A2,netz,y,1,,
A5,Versorgung,,Brumm,measure,8,,30,mVpp,A4,netz,y,1,,
A6,Funktion,,Ausgang,measure,1.0,0.7,1.5,V rms,A4,ausgang,y,3,,
A7,Dauerlauf,hold,Dauerlauf,soak,0,,0,Fehler,A6,ausgang,y,720,12,6
A8,Abschluss,hold,Unterlagen,yesno,,,,,A7,ausgang,n,5,,`
const read = (checklist: string) => readImport({ checklist, partsList: PARTS, feeds: FEEDS })
const kinds = (checklist: string) => Object.fromEntries(read(checklist).draft.checks.map(({ key, stageKind }) => [key, stageKind]))
const gates = (checklist: string, key: string) => {
  const { checks } = read(checklist).draft
  const check = checks.find((one) => one.key === key)
  return check ? powerGates(check, checks).map((one) => one.key) : []
}
const withColumn = (name: string, cells: Record<string, string>) =>
  GERMAN.split('\n')
    .map((line, index) => `${line},${index === 0 ? name : (cells[line.split(',')[0] ?? ''] ?? '')}`)
    .join('\n')

describe('a checklist in another language', () => {
  it('has its stages taken for what their checks are, and power waits for the cold ones', () => {
    expect(read(GERMAN).flaws).toEqual([])
    expect(kinds(GERMAN)).toEqual({
      A1: 'visual',
      A2: 'cold',
      A3: 'cold',
      A4: 'rails',
      A5: 'rails',
      A6: 'other',
      A7: 'other',
      A8: 'close-out',
    })
    expect(gates(GERMAN, 'A6')).toEqual(['A2', 'A3', 'A4'])
  })

  it('says what it took each stage to be, and which checks power waits for', () => {
    const { taken } = read(GERMAN).sheets[0] ?? {}
    expect(taken).toContain('“Kaltmessung” is taken as cold: measuring cold, before any power; power waits for A2, A3.')
    expect(taken).toContain('“Abschluss” is taken as close-out: closing the record.')
  })

  it('says first that nothing gates power, where that is so', () => {
    const bare = withColumn('gates power', { A2: 'n', A3: 'n', A4: 'n' })
    expect(read(bare).sheets[0]?.taken?.[0]).toMatch(/^Nothing gates power: A4 puts power on/)
    expect(gates(bare, 'A6')).toEqual([])
  })

  it('is believed where its columns say it', () => {
    expect(gates(withColumn('gates power', { A1: 'y', A3: 'n' }), 'A6')).toEqual(['A1', 'A2', 'A4'])
    expect(kinds(withColumn('stage kind', { A6: 'close-out', A1: 'other' }))).toMatchObject({ A1: 'other', A6: 'close-out' })
    expect(read(withColumn('stage kind', { A6: 'warm' })).flaws[0]).toMatchObject({
      column: 'stage kind',
      words: '"warm" is not a kind of stage. Write visual, cold, rails, close-out or other.',
    })
  })

  it('has its ripple undone by what changes a load, though its title says neither ripple nor hum', () => {
    const { checks, feeds } = read(GERMAN).draft
    expect(undoneBy({ blocks: ['ausgang'], iron: false }, checks, feeds).find(({ check }) => check === 'A5')?.why).toBe(
      'netz powers ausgang',
    )
  })
})

it('a stage that is called by a known name is what it is called, whatever stands in it', () => {
  const english = GERMAN.replaceAll('Kaltmessung', 'cold').replaceAll('Versorgung', 'first power')
  expect(kinds(english)).toMatchObject({ A2: 'cold', A4: 'rails' })
  expect(kinds(english.replaceAll('first power', 'rails').replaceAll('Funktion', 'first power'))).toMatchObject({
    A4: 'rails',
    A6: 'other',
  })
})

it('what a checklist says of stages, power, four eyes and frequency is written out and read back as the same', () => {
  const cells = withColumn('frequency', { A6: '1 kHz' })
  const { checks } = read(cells.replace('A4,Versorgung,hold', 'A4,Versorgung,hold')).draft
  expect(checks.find(({ key }) => key === 'A6')?.frequency).toBe(1000)
  const rows = checks.map((check) => cellsOf({ ...check, fourEyes: check.isHold }))
  const head = Object.keys(rows[0] ?? {})
  const again = [head.join(','), ...rows.map((row) => head.map((name) => row[name]).join(','))].join('\n')
  expect(read(again).draft.checks).toEqual(checks.map((check) => ({ ...check, fourEyes: check.isHold })))
  expect(read(withColumn('frequency', { A6: 'low' })).flaws[0]?.words).toBe(
    '"low" is not a frequency. Write it with its unit, such as 1 kHz.',
  )
})

it('after an iron all cold checks are due, also those that no line of the drawing leads to', () => {
  const { checks } = read(GERMAN).draft
  const due = undoneBy({ blocks: ['ausgang'], iron: true }, checks, []).map(({ check }) => check)
  expect(due).toContain('A2')
  expect(undoneBy({ blocks: ['ausgang'], iron: false }, checks, []).map(({ check }) => check)).not.toContain('A2')
})
