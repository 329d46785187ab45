import Link from 'next/link'
import { Readings } from '#app/_ui/readings.tsx'
import { readingRow } from '#app/(public)/units/[tag]/reading-row.ts'
import { failedBefore, mendedWords, tellingReadings, testedWords } from '#app/(public)/units/[tag]/record.rules.ts'
import { shownWithUnit } from '#bench/certificates/sentences.rules'
import type { RecordView } from '#floor/record/record.service'

/** The record as far as a bidder needs it: how old, what was mended, and the readings that tell most; the way to all of it. */
export function RecordPart({ view, tag, telling }: { view: RecordView; tag: string; telling: readonly string[] }) {
  const { record, standing, now, zone } = view
  const rows = tellingReadings(record, telling).map((result) => {
    const failed = failedBefore(record, result.check)
    return readingRow(result, failed && `after rework; was ${shownWithUnit(failed)}`)
  })
  return (
    <section id="record" className="sheet stack" aria-labelledby="record-title">
      <h2 id="record-title">The record of its tests</h2>
      {record.firstReadingAt !== null && record.lastReadingAt !== null && (
        <p>
          {testedWords(record.firstReadingAt, record.lastReadingAt, now, zone)} {mendedWords(record, zone)}
        </p>
      )}
      {rows.length > 0 && <Readings caption={`Telling readings of ${tag}`} rows={rows} />}
      <p>
        <Link prefetch={false} href={`/units/${tag}`}>
          {record.results.length > 0 ? `All ${record.results.length} readings` : 'How far it has come'}
        </Link>
        {standing && (
          <>
            {' · '}
            <Link prefetch={false} href={`/certificates/${standing.serial}`}>
              Certificate {standing.serial}
            </Link>
          </>
        )}
      </p>
      <details>
        <summary>What this does and does not prove</summary>
        <p>{record.proves}</p>
        <p>{record.decision}</p>
      </details>
      {record.design.quirks.length > 0 && <Listed title="Known quirks" lines={record.design.quirks} />}
      {record.design.cautions.length > 0 && <Listed title="Cautions" lines={record.design.cautions} />}
    </section>
  )
}

function Listed({ title, lines }: { title: string; lines: readonly string[] }) {
  return (
    <div>
      <h3>{title}</h3>
      <ul>
        {lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </div>
  )
}
