import type { CertificateResult } from '#bench/certificates/certificates.contract'
import { recordRow } from './record-row.rules'
import { RecordTable } from './record-table'

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
        The pale band is what passes, the tick is what was found, and the shading around it is the doubt of the instrument. Arrows at one
        end mean that there is no limit on that side.
      </p>
      {results.length === 0 ? (
        <p>None yet.</p>
      ) : (
        <RecordTable rows={results.map((one) => recordRow(one, atHome.includes(one.check), zone))} />
      )}
    </section>
  )
}
