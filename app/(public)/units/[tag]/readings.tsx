import type { CertificateResult } from '../../../../server/certificates/certificates.contract'
import { doubtShort, plainSentence } from '../../../../server/certificates/sentences.rules'
import { Readings } from '../../../_ui/readings'
import { readingRow } from './reading-row'
import { dayIn } from './record.rules'

interface AllReadingsProps {
  results: readonly CertificateResult[]
  /** Keys of the checks that a buyer can repeat. */
  atHome: readonly string[]
  zone: string
}

/** Every reading that stands, in the order of the checklist, each with its gauge and a sentence for people who own no meter. */
export function AllReadings({ results, atHome, zone }: AllReadingsProps) {
  return (
    <section className="stack" aria-labelledby="readings">
      <h2 id="readings">Readings</h2>
      <p className="quiet">
        The pale band is what passes, the tick is what was found, the shade about the tick is the doubt of the instrument. Arrows at one end
        say that there is no limit on that side.
      </p>
      {results.length === 0 ? (
        <p>None yet.</p>
      ) : (
        <Readings
          caption="Readings that stand"
          rows={results.map((result) => readingRow(result, <Note result={result} isForHome={atHome.includes(result.check)} zone={zone} />))}
        />
      )}
    </section>
  )
}

function Note({ result, isForHome, zone }: { result: CertificateResult; isForHome: boolean; zone: string }) {
  const { doubt, unit, instrument, takenAt } = result
  const plusMinus = doubt ? `± ${doubtShort(doubt)}${unit ? ` ${unit}` : ''}` : null
  const particulars = [plusMinus, instrument, dayIn(Date.parse(takenAt), zone), isForHome && 'try this one at home']
  return (
    <>
      {plainSentence(result)}
      <br />
      {particulars.filter(Boolean).join(' · ')}
    </>
  )
}
