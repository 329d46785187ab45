import Link from 'next/link'
import { VerdictChip } from '#app/_ui/verdict-chip.tsx'
import { When } from '#app/_ui/when.tsx'
import type { InstrumentSheet } from '#bench/units/instruments.service'

const MOST = 100

/** What was read with it, the latest first. */
export function ReadingsTable({ readings, zone }: Pick<InstrumentSheet, 'readings'> & { zone: string }) {
  return (
    <section className="sheet">
      <table className="cards">
        <caption>{readings.length > MOST ? `The latest ${MOST} of ${readings.length} readings` : 'Readings taken with it'}</caption>
        <thead>
          <tr>
            <th scope="col">Unit</th>
            <th scope="col">Check</th>
            <th scope="col" className="num">
              Reading
            </th>
            <th scope="col" className="num">
              U (k = 2)
            </th>
            <th scope="col">Verdict</th>
            <th scope="col">Taken</th>
          </tr>
        </thead>
        <tbody>
          {readings.slice(0, MOST).map((row) => (
            <tr key={row.id}>
              <th scope="row">
                <Link href={`/bench/units/${row.tag}`} className="code">
                  {row.tag}
                </Link>
              </th>
              <td data-label="Check" className="code">
                {row.checkKey}
              </td>
              <td data-label="Reading" className="num">
                {row.entry}
              </td>
              <td data-label="U (k = 2)" className="num">
                {row.expandedUncertainty === null ? '' : `±${Number(row.expandedUncertainty.toPrecision(2))} ${row.unit}`}
              </td>
              <td data-label="Verdict">
                <VerdictChip verdict={row.verdict} />
                {!row.stands && <span className="small quiet"> no longer current</span>}
                {row.isOverdue && <span className="small"> past its date</span>}
              </td>
              <td data-label="Taken">
                <When at={row.at} zone={zone} brief /> · {row.by}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}
