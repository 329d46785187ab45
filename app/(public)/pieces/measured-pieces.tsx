import { Chip } from '../../_ui/chip'
import { Gauge, type GaugeProps } from '../../_ui/gauge'
import { type GaugeVerdict, sayLimits } from '../../_ui/gauge.rules'
import { Strip } from '../../_ui/strip'
import type { Reached } from '../../_ui/strip.rules'
import type { Tone } from '../../_ui/tone'
import styles from './pieces.module.css'
import { Section, State } from './state'

const GAUGES: readonly (GaugeProps & { note: string })[] = [
  { note: 'two limits', name: 'Regulated rail', value: 8.02, lower: 7.7, upper: 8.3, nominal: 8, doubt: 0.05, unit: 'V', verdict: 'pass' },
  {
    note: 'close to one',
    name: 'Oscillator, low end',
    value: 6.364,
    lower: 6.345,
    upper: 6.365,
    nominal: 6.355,
    doubt: 0.002,
    unit: 'MHz',
    verdict: 'pass within doubt',
  },
  {
    note: 'just beyond',
    name: 'Bias current',
    value: 31.2,
    lower: 20,
    upper: 31,
    nominal: 25,
    doubt: 0.6,
    unit: 'mA',
    verdict: 'fail within doubt',
  },
  { note: 'beyond', name: 'Clock', value: 4.31, lower: 3.9, upper: 4.1, nominal: 4, doubt: 0.01, unit: 'MHz', verdict: 'fail' },
  { note: 'upper limit only', name: 'Sensitivity', value: 3.1, upper: 5, doubt: 0.4, unit: 'µV', verdict: 'pass' },
  { note: 'upper only, beyond', name: 'Ripple', value: 6.4, upper: 5, doubt: 0.3, unit: 'mV', verdict: 'fail' },
  { note: 'lower limit only', name: 'Image rejection', value: 21.4, lower: 15, doubt: 0.8, unit: 'dB', verdict: 'pass' },
  { note: 'off the open end', name: 'Insulation', value: 200, lower: 10, unit: 'MΩ', verdict: 'pass' },
  { note: 'off the low end', name: 'Raw rail', value: 0.3, lower: 11.4, upper: 12.6, nominal: 12, doubt: 0.02, unit: 'V', verdict: 'fail' },
  { note: 'a count', name: 'Keys that answer', value: 16, lower: 16, upper: 16, verdict: 'pass' },
  { note: 'a count, one short', name: 'Keys that answer', value: 15, lower: 16, upper: 16, verdict: 'fail' },
  { note: 'no limits, recorded only', name: 'Ambient', value: 21, nominal: 21, unit: '°C' },
]

const TONES: Record<GaugeVerdict, Tone> = { pass: 'ok', 'pass within doubt': 'doubt', 'fail within doubt': 'doubt', fail: 'bad' }
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
      <Section title="Gauge">
        <div className={`sheet ${styles.gauges}`}>
          <table className="cards">
            <caption className="visually-hidden">Gauges in every state</caption>
            <thead>
              <tr>
                <th scope="col">Check</th>
                <th scope="col" className="num">
                  Reading
                </th>
                <th scope="col" style={{ width: '40%' }}>
                  Where it stands
                </th>
                <th scope="col">Verdict</th>
              </tr>
            </thead>
            <tbody>
              {GAUGES.map(({ note, ...gauge }) => (
                <tr key={note}>
                  <th scope="row">
                    {gauge.name}
                    <span className="small quiet" style={{ display: 'block', fontWeight: 400 }}>
                      {note}; {sayLimits(gauge.lower ?? null, gauge.upper ?? null, gauge.unit)}
                    </span>
                  </th>
                  <td className="num">
                    {gauge.value} {gauge.unit}
                  </td>
                  <td>
                    <Gauge {...gauge} />
                  </td>
                  <td>{gauge.verdict ? <Chip tone={TONES[gauge.verdict]}>{gauge.verdict}</Chip> : 'recorded'}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
        <State name="wide, for the check at hand">
          <Gauge size="wide" name="Regulated rail" value={8.02} lower={7.7} upper={8.3} nominal={8} doubt={0.05} unit="V" verdict="pass" />
        </State>
      </Section>
    </>
  )
}
