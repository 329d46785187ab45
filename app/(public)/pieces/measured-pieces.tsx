import { Gauge } from '#app/_ui/gauge.tsx'
import { type ReadingRow, Readings } from '#app/_ui/readings.tsx'
import type { Reached } from '#app/_ui/strip.rules.ts'
import { Strip } from '#app/_ui/strip.tsx'
import styles from './pieces.module.css'
import { Section, State } from './state'

const RAIL = { value: 8.02, lower: 7.7, upper: 8.3, nominal: 8, doubt: 0.05, unit: 'V' }
const MHZ = { value: 6.364, lower: 6.345, upper: 6.365, nominal: 6.355, doubt: 0.002, unit: 'MHz' }
const BIAS = { value: 31.2, lower: 20, upper: 31, nominal: 25, doubt: 0.6, unit: 'mA' }
const RIPPLE = { value: 6.4, upper: 5, doubt: 0.3, unit: 'mV' }
const RAW = { value: 0.3, lower: 11.4, upper: 12.6, nominal: 12, doubt: 0.02, unit: 'V' }

const ROWS: readonly ReadingRow[] = [
  { check: 'B6', name: 'Regulated rail', note: 'two limits', shown: '8.02 V', gauge: RAIL, verdict: 'pass' },
  { check: 'B17', name: 'Oscillator, low end', note: 'close to one', shown: '6.364 MHz', gauge: MHZ, verdict: 'pass within doubt' },
  { check: 'B13', name: 'Bias current', note: 'just beyond', shown: '31.2 mA', gauge: BIAS, verdict: 'fail within doubt' },
  {
    check: 'B9',
    name: 'Clock',
    note: 'beyond',
    shown: '4.17 MHz',
    gauge: { value: 4.17, lower: 3.9, upper: 4.1, nominal: 4 },
    verdict: 'fail',
  },
  {
    check: 'B20',
    name: 'Sensitivity',
    note: 'an upper limit',
    shown: '3.1 µV',
    gauge: { value: 3.1, upper: 5, doubt: 0.4 },
    verdict: 'pass',
  },
  { check: 'B7', name: 'Ripple', note: 'beyond the upper', shown: '6.4 mV', gauge: RIPPLE, verdict: 'fail' },
  {
    check: 'B21',
    name: 'Image rejection',
    note: 'a lower limit',
    shown: '21.4 dB',
    gauge: { value: 21.4, lower: 15, doubt: 0.8 },
    verdict: 'pass',
  },
  { check: 'B2', name: 'Insulation', note: 'off the open end', shown: '200 MΩ', gauge: { value: 200, lower: 10 }, verdict: 'pass' },
  { check: 'B5', name: 'Raw rail', note: 'off the low end', shown: '0.3 V', gauge: RAW, verdict: 'fail' },
  { check: 'B24', name: 'Keys that answer', note: 'a count', shown: '16', gauge: { value: 16, lower: 16, upper: 16 }, verdict: 'pass' },
  { check: 'B25', name: 'Keys that answer', note: 'one short', shown: '15', gauge: { value: 15, lower: 16, upper: 16 }, verdict: 'fail' },
  { check: 'B11', name: 'Image in U3', note: 'no scale', shown: 'matches', verdict: 'pass' },
  { check: 'B0', name: 'Ambient', note: 'no limits', shown: '21 °C', gauge: { value: 21 }, verdict: null },
]

const TERMINALS: readonly Reached[] = [0, 1, 2, 3, 4, 5, 6]

/** Strip and gauge. */
export function MeasuredPieces({ onAir = false }: { onAir?: boolean }) {
  if (onAir) return <Strip reached={4} name="TERN-03" />
  return (
    <>
      <Section title="Strip">
        <div className={styles.grid}>
          {TERMINALS.map((reached) => (
            <State key={reached} name={`reached ${reached}`}>
              <Strip reached={reached} name="TERN-03" />
            </State>
          ))}
          <State name="288 px wide, as on the smallest phone">
            <div className={styles.narrow}>
              <Strip reached={3} name="TERN-04" />
            </div>
          </State>
        </div>
      </Section>
      <Section title="Gauge and readings">
        <div className="sheet">
          <Readings caption="Gauges in every state" rows={ROWS} />
        </div>
        <State name="wide, for the check at hand">
          <Gauge size="wide" name="Regulated rail" {...RAIL} verdict="pass" />
        </State>
      </Section>
    </>
  )
}
