import Link from 'next/link'
import type { RecordView } from '../../../../server/certificates/certificates.service'
import { shownWithUnit } from '../../../../server/certificates/sentences.rules'
import { type ReadingRow, Readings } from '../../../_ui/readings'

type Result = RecordView['record']['results'][number]

/** The readings that matter most to a buyer: those in doubt, those that can be repeated at home, then the first ones. */
export function RecordPart({ view, tag }: { view: RecordView; tag: string }) {
  const { record, standing } = view
  const measured = record.results.filter(({ value, kind }) => value !== null && kind !== 'match')
  const weight = (result: Result) => (result.verdict === 'pass within doubt' ? 0 : record.atHome.includes(result.check) ? 1 : 2)
  const shown = [...measured].sort((a, b) => weight(a) - weight(b)).slice(0, 6)
  const rows = measured.filter((result) => shown.includes(result)).map((result) => rowOf(result, record))
  return (
    <section id="record" className="sheet stack" aria-labelledby="record-title">
      <h2 id="record-title">The record of its tests</h2>
      {rows.length > 0 && <Readings caption={`Key readings of ${tag}`} rows={rows} />}
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

function rowOf(result: Result, record: RecordView['record']): ReadingRow {
  const { check, title, unit, value, lower, upper, nominal, doubt, verdict } = result
  const failed = record.earlier.findLast((earlier) => earlier.check === check && earlier.verdict.startsWith('fail'))
  return {
    check,
    name: title,
    shown: shownWithUnit(result),
    verdict,
    ...(failed && { note: `after rework; was ${failed.shown}${failed.unit ? ` ${failed.unit}` : ''}` }),
    ...(value !== null && (lower !== null || upper !== null) && { gauge: { value, lower, upper, nominal, doubt, ...(unit && { unit }) } }),
  }
}
