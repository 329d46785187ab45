import type { CertificateResult } from '../../../../server/certificates/certificates.contract'
import { doubtShort, plainSentence, shownWithUnit } from '../../../../server/certificates/sentences.rules'
import { groupBy } from '../../../../server/kernel/group'
import { Readings } from '../../../_ui/readings'
import styles from './record.module.css'
import { dayIn } from './record.rules'

interface AllReadingsProps {
  results: readonly CertificateResult[]
  /** Keys of the checks that a buyer can repeat. */
  atHome: readonly string[]
  zone: string
}

/** Every reading that stands, by stage, each with its gauge and a sentence for people who own no meter. */
export function AllReadings({ results: all, atHome, zone }: AllReadingsProps) {
  const stages = [...groupBy(all, (result) => result.stage)]
  return (
    <section className="stack" aria-labelledby="readings">
      <h2 id="readings">Readings</h2>
      <p className="quiet">
        The pale band is what passes, the tick is what was found, the shade about the tick is the doubt of the instrument. An arrow at one
        end says that there is no limit on that side.
      </p>
      {all.length === 0 && <p>None yet.</p>}
      {stages.map(([stage, results]) => (
        <div key={stage} className="stack close">
          <h3 className={styles.stage}>{stage}</h3>
          <Readings
            caption={`Readings: ${stage}`}
            rows={results.map((result) => ({
              check: result.check,
              name: result.title,
              note: <Note result={result} isForHome={atHome.includes(result.check)} zone={zone} />,
              shown: shownWithUnit(result),
              verdict: result.verdict,
              ...(result.value !== null &&
                (result.lower !== null || result.upper !== null) && {
                  gauge: {
                    value: result.value,
                    lower: result.lower,
                    upper: result.upper,
                    nominal: result.nominal,
                    doubt: result.doubt,
                    unit: result.unit ?? '',
                  },
                }),
            }))}
          />
        </div>
      ))}
    </section>
  )
}

function Note({ result, isForHome, zone }: { result: CertificateResult; isForHome: boolean; zone: string }) {
  const doubt = result.doubt ? `± ${doubtShort(result.doubt)}${result.unit ? ` ${result.unit}` : ''}, ` : ''
  const withWhat = result.instrument ? `${result.instrument}, ` : ''
  return (
    <>
      {plainSentence(result)}
      <br />
      {doubt}
      {withWhat}
      {dayIn(Date.parse(result.takenAt), zone)}
      {isForHome && ' · try this one at home'}
    </>
  )
}
