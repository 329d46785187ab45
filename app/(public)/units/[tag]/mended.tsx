import type { PublicRecord } from '#bench/certificates/public-record.rules'
import { nothingChangedWords, shownWithUnit } from '#bench/certificates/sentences.rules'
import { type Line, Lines } from './lines'
import { dayIn, ended } from './record.rules'

/** What was found wrong and changed, with the readings that no longer count; and what is odd about the machine and stays so. */
export function Mended({ record, zone }: { record: PublicRecord; zone: string }) {
  const reworks = record.reworks.map(
    ({ at, fault, what, undid }): Line => ({
      lead: `${dayIn(at, zone)}.`,
      words: `${fault ? `${ended(fault)} ` : ''}${ended(what)}`,
      ...(undid.length > 0 && { aside: `No longer counted after it: ${undid.join(', ')}.` }),
    }),
  )
  const earlier = record.earlier.map(
    (reading): Line => ({
      lead: reading.check,
      words: `${reading.title}: ${shownWithUnit(reading)}, ${reading.verdict}, ${dayIn(reading.takenAt, zone)}.`,
      aside: reading.whyNotCurrent,
    }),
  )
  return (
    <section className="stack" aria-labelledby="mended">
      <h2 id="mended">What was mended</h2>
      {reworks.length === 0 ? <p>{nothingChangedWords(record.faults)}</p> : <Lines lines={reworks} isOrdered />}
      {earlier.length > 0 && (
        <details>
          <summary>Readings that no longer count ({earlier.length})</summary>
          <Lines lines={earlier} />
        </details>
      )}
      {record.design.quirks.length > 0 && (
        <>
          <h3>Known quirks</h3>
          <Lines lines={record.design.quirks.map((words) => ({ words }))} />
        </>
      )}
    </section>
  )
}
