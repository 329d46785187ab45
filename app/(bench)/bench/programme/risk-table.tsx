import { MINUTE } from '#kernel/instant'
import { showClock } from '#kernel/wall-clock'
import { type Often, sayInterval, sayShare } from '#sale/simulation/chance.rules'
import type { DayRisk } from '#sale/simulation/simulation.contract'

export interface RiskTableProps {
  risk: DayRisk
  /** What there is to run into each other. */
  parts: number
  zone: string
  allowanceMs: number
}

/** The same as the picture, in figures, each with its error. */
export function RiskTable({ risk, parts, zone, allowanceMs }: RiskTableProps) {
  const minutes = (milliseconds: number) => (milliseconds / MINUTE).toFixed(1)
  return (
    <div className="stack">
      <p>
        <b>
          In {sayShare(risk.dayOver.share)} of days the stream ends late
          {parts > 1 ? `, in ${sayShare(risk.anyCollision.share)} closings collide somewhere.` : '.'}
        </b>{' '}
        {parts < 2 && 'Whether closings collide cannot be judged: there is one thing in the day. '}
        Nine days of ten are done by {showClock(risk.doneNinety, zone)}. With 95 % certainty{' '}
        {parts > 1
          ? `these lie from ${sayInterval(risk.dayOver)} and from ${sayInterval(risk.anyCollision)}`
          : `it lies from ${sayInterval(risk.dayOver)}`}
        .
      </p>
      <table className="cards">
        <caption>Each closing, if the host changes nothing</caption>
        <thead>
          <tr>
            <th scope="col">Closing</th>
            <th scope="col">Collides with what is next</th>
            <th scope="col">Guest still talks</th>
            <th scope="col">Over {Math.round(allowanceMs / MINUTE)} min late</th>
            <th scope="col">Later on average, min</th>
            <th scope="col">Nine of ten days, min</th>
          </tr>
        </thead>
        <tbody>
          {risk.closings.map((one) => (
            <tr key={one.lot}>
              <th scope="row">
                <span className="num">{showClock(one.at, zone)}</span> lot {one.lot}
              </th>
              <Share often={one.collides} label="Collides with what is next" />
              <Share often={one.squeezed} label="Guest still talks" />
              <Share often={one.over} label="Late" />
              <td className="num" data-label="Later on average, min">
                {minutes(one.delayMs)} ± {minutes(1.96 * one.delayErrorMs)}
              </td>
              <td className="num" data-label="Nine of ten days, min">
                {minutes(one.delayNinetyMs)}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}

const Share = ({ often, label }: { often: Often; label: string }) => (
  <td className="num" data-label={label}>
    {sayShare(often.share)} <span className="small quiet">({sayInterval(often)})</span>
  </td>
)
