import { createHash } from 'node:crypto'
import type { CheckFacts, IssuerFacts, UnitFacts } from '#bench/certificates/record.contract'
import { DAY, HOUR, MINUTE } from '#kernel/instant'

/** 1 March 2027, 09:00 UTC: the first day at the bench of the unit below. */
export const BENCH_OPENS = Date.UTC(2027, 2, 1, 9)

export const anIssuer: IssuerFacts = {
  seller: 'Long Bench',
  sellerAddress: '4 Ferry Lane, Marram, MR2 4QX',
  campaign: 'Long Bench Day',
  cause: 'Ferry Lane Repair School',
}

const sha = (text: string) => createHash('sha256').update(text).digest('hex')

type Row = [string, string, string, number | null, number | null, number, string, string, number | null]

/** key, stage, title, lower, upper, nominal, unit, as shown, doubt */
const ROWS: Row[] = [
  ['B2', 'visual', 'Winding deviation T1 to T4', -30, 30, 0, '%', '-4', 0.6],
  ['B3', 'cold', '12 V input to 0 V cold', 0.5, null, 2.2, 'kΩ', '2.31', 0.02],
  ['B4', 'cold', 'Reverse-protection diode drop', 0.2, 0.7, 0.35, 'V', '0.341', 0.004],
  ['B5', 'first power', 'Current without the audio chip; supply limited to 60 mA', 4, 15, 9, 'mA', '8.7', 0.1],
  ['B6', 'rails', 'Regulated rail', 7.7, 8.3, 8, 'V', '8.02', 0.05],
  ['B9', 'function', '1 kHz at the volume control: output into 8 Ω', 0.7, 1.5, 1, 'V rms', '1.08', 0.03],
  ['B10', 'function', 'Hum with the volume at minimum', null, 2, 0.5, 'mV rms', '0.62', 0.04],
  ['B14', 'function', 'Intermediate peak; signal kept small', 454, 456, 455, 'kHz', '455.2', 0.1],
  ['B17', 'function', 'Local oscillator at the low end', 6.345, 6.365, 6.355, 'MHz', '6.364', 0.002],
  ['B20', 'function', 'Sensitivity at 7.2 MHz; 30 % AM; 10 dB', null, 5, 2, 'µV', '3.1', 0.4],
  ['B21', 'function', 'Image rejection', 15, null, 22, 'dB', '21.4', 0.8],
  ['B25', 'function', 'Oscillator at the aerial socket', null, -57, -65, 'dBm', '-64.2', 1.1],
]

export function measuredCheck([key, stage, title, lower, upper, nominal, unit, shown, doubt]: Row, index = 0): CheckFacts {
  const value = Number(shown)
  const near = doubt !== null && ((upper !== null && value + doubt > upper) || (lower !== null && value - doubt < lower))
  return {
    key,
    stage,
    title,
    kind: 'measure',
    isHold: ['B3', 'B6'].includes(key),
    isReleased: true,
    release: null,
    nominal,
    lower,
    upper,
    unit,
    reference: nominal,
    plain: key === 'B6' ? 'The supply inside holds steady at the voltage that everything else needs.' : null,
    caution: null,
    current: {
      seq: index + 1,
      shown,
      value,
      doubt,
      verdict: near ? 'pass within doubt' : 'pass',
      instrument: unit === 'V' || unit === 'mA' || unit === 'kΩ' ? 'Bench meter no. 2' : 'Signal generator no. 1',
      takenAt: BENCH_OPENS + Math.floor(index / 4) * DAY + index * 20 * MINUTE,
      takenBy: 'the maker',
      ambient: '21 °C',
      isWhileSearching: false,
      matched: null,
      lower,
      upper,
      departure: null,
      photograph: null,
      soak: null,
    },
  }
}

function otherCheck(key: string, title: string, kind: CheckFacts['kind'], shown: string, index: number): CheckFacts {
  const check = measuredCheck([key, kind === 'soak' ? 'soak' : 'visual', title, null, null, 0, '', shown, null], index)
  const { current } = check
  return {
    ...check,
    kind,
    unit: null,
    nominal: null,
    reference: null,
    isHold: kind === 'soak',
    current: current && {
      ...current,
      value: null,
      instrument: null,
      matched: kind === 'match' ? sha('image of U9') : null,
      soak: kind === 'soak' ? { hours: 12, coldStarts: 6, seen: 'observed' } : null,
    },
  }
}

/** TERN-03, a receiver with fourteen checks, all passed, one within doubt, one rework behind it. */
export function aUnit(change: Partial<UnitFacts> = {}): UnitFacts {
  return {
    tag: 'TERN-03',
    number: 3,
    setAside: null,
    design: {
      key: 'saltmarsh-sr3',
      name: 'Saltmarsh SR-3',
      revision: 'C',
      digest: sha('checklist of Saltmarsh SR-3 rev C'),
      decisionRule: 'guarded-with-doubt',
      quirks: ['The dial reads 8 kHz low when it is cold.'],
      cautions: ['12 V only. Not for use near water. Your local rules for electrical goods apply.'],
    },
    checks: [
      otherCheck('B1', 'Both sides under 10x; coil turns against the sheet', 'yesno', 'yes', 0),
      ...ROWS.map((row, index) => measuredCheck(row, index)),
      otherCheck('B28', 'Soak; sensitivity again', 'soak', '0 faults in 12 h, 6 cold starts', 20),
    ],
    withdrawn: [],
    earlier: [
      {
        check: 'B21',
        title: 'Image rejection',
        shown: '13',
        unit: 'dB',
        verdict: 'fail',
        takenAt: BENCH_OPENS + 2 * HOUR,
        whyNotCurrent: 'Reworked since: coil T3, cracked core, replaced.',
      },
    ],
    reworks: [
      {
        at: BENCH_OPENS + 5 * HOUR,
        fault: 'Core of coil T3 cracked',
        what: 'Coil T3 replaced',
        iron: true,
        undid: ['B14', 'B20', 'B21'],
      },
    ],
    faults: [],
    instruments: [
      { name: 'Bench meter no. 2', accuracy: '±(0.5 % + 2 digits)', checkedAt: Date.UTC(2027, 0, 4), dueAt: Date.UTC(2028, 0, 4) },
      { name: 'Signal generator no. 1', accuracy: '±1 dB', checkedAt: Date.UTC(2026, 10, 20), dueAt: null },
    ],
    fitted: [
      { designators: 'R1–R4, R7', part: 'Resistor 4.7 kΩ', batch: 'B-0012', sha256: null, isQuarantined: false },
      { designators: 'U2', part: 'Audio chip', batch: 'B-0031', sha256: null, isQuarantined: false },
    ],
    unfitted: [],
    evidence: [],
    departures: [],
    ...change,
  }
}

/** The same with enough checks to run over several sheets. */
export function aLongUnit(checks = 90): UnitFacts {
  const unit = aUnit()
  const many = Array.from({ length: checks }, (_, index) => {
    const row = ROWS[index % ROWS.length] ?? ROWS[0]
    return measuredCheck([`C${index + 1}`, ...(row?.slice(1) ?? [])] as Row, index)
  })
  return { ...unit, checks: many }
}

/** One check of a unit changed, the rest as it was. */
export function withCheck(unit: UnitFacts, key: string, change: (check: CheckFacts) => CheckFacts): UnitFacts {
  return { ...unit, checks: unit.checks.map((check) => (check.key === key ? change(check) : check)) }
}
