import type { PublicRecord } from '../../../../server/certificates/public-record.rules'
import { shownWithUnit } from '../../../../server/certificates/sentences.rules'
import { dayIn, ended } from './record.rules'

/** What was found wrong and changed, with the readings that no longer count; and what is odd about the machine and stays so. */
export function Mended({ record, zone }: { record: PublicRecord; zone: string }) {
  return (
    <section className="stack" aria-labelledby="mended">
      <h2 id="mended">What was mended</h2>
      {record.reworks.length === 0 && <p>Nothing: no fault was found so far.</p>}
      {record.reworks.length > 0 && (
        <ol className="stack close">
          {record.reworks.map((rework) => (
            <li key={`${rework.at} ${rework.what}`}>
              <b>{dayIn(rework.at, zone)}.</b> {rework.fault && `${ended(rework.fault)} `}
              {ended(rework.what)}
              {rework.undid.length > 0 && <span className="quiet"> No longer counted after it: {rework.undid.join(', ')}.</span>}
            </li>
          ))}
        </ol>
      )}
      {record.earlier.length > 0 && (
        <details>
          <summary>Readings that no longer count ({record.earlier.length})</summary>
          <ul>
            {record.earlier.map((reading) => (
              <li key={`${reading.check} ${reading.takenAt} ${reading.shown}`}>
                <span className="num">{reading.check}</span> {reading.title}: <span className="num">{shownWithUnit(reading)}</span>,{' '}
                {reading.verdict}, {dayIn(reading.takenAt, zone)}. <span className="quiet">{reading.whyNotCurrent}</span>
              </li>
            ))}
          </ul>
        </details>
      )}
      {record.design.quirks.length > 0 && (
        <>
          <h3>Known quirks</h3>
          <ul>
            {record.design.quirks.map((quirk) => (
              <li key={quirk}>{quirk}</li>
            ))}
          </ul>
        </>
      )}
    </section>
  )
}
