import type { RehearsalReport } from '#air/rehearsal/rehearsal.contract'
import { minutesLate, whatWasTried } from '#air/rehearsal/report.rules'
import { MINUTE } from '#kernel/instant'
import { showClock } from '#kernel/wall-clock'

/** What came of a rehearsal: collisions, overruns, cues that never came up, bids that were refused. */
export function Report({ report, zone }: { report: RehearsalReport; zone: string }) {
  const clock = (at: number) => showClock(at, zone)
  const minutes = (milliseconds: number) => Math.round(milliseconds / MINUTE)
  return (
    <section className="sheet stack" aria-labelledby="report">
      <h2 id="report">How it went</h2>
      <ul>
        <li>
          {report.collisions.length === 0
            ? 'No closing ran into the next.'
            : report.collisions
                .map(({ lot, into, byMs }) => `Lot ${lot} ran ${Math.max(1, minutes(byMs))} min into the ten minutes of lot ${into}.`)
                .join(' ')}
        </li>
        <li>{report.overMs === 0 ? 'The stream ended in time.' : `The stream ran over by ${Math.max(1, minutes(report.overMs))} min.`}</li>
        <li>
          {report.bids} bids were taken. {report.refused.length === 0 && 'None was refused.'}
        </li>
        {report.refused.map(({ words, times }) => (
          <li key={words}>
            Refused {times === 1 ? 'once' : `${times} times`}: {words}
          </li>
        ))}
      </ul>
      <h3>What was rehearsed, and what was not</h3>
      <ul>
        {whatWasTried(report).map((words) => (
          <li key={words}>{words}</li>
        ))}
      </ul>
      <table className="cards">
        <caption>
          Rehearsed from {clock(report.from)} to {clock(report.to)}
        </caption>
        <thead>
          <tr>
            <th scope="col">Lot</th>
            <th scope="col">Planned</th>
            <th scope="col">Closed</th>
            <th scope="col">Late, min</th>
            <th scope="col">Cues that never came up</th>
          </tr>
        </thead>
        <tbody>
          {report.lots.map(({ lot, plannedAt, endedAt, missedCues }) => (
            <tr key={lot}>
              <th scope="row">Lot {lot}</th>
              <td className="num" data-label="Planned">
                {clock(plannedAt)}
              </td>
              <td className="num" data-label="Closed">
                {clock(endedAt)}
              </td>
              <td className="num" data-label="Late, min">
                {minutesLate(plannedAt, endedAt)}
              </td>
              <td data-label="Cues that never came up">{missedCues.join(', ') || 'none'}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}
