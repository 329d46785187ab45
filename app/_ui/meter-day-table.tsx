import type { Currency } from '#kernel/money'
import { civilIn, sayTime } from '#kernel/wall-clock'
import type { DayPoint } from '#money/pictures/day.rules'
import type { DayFrame } from '#money/pictures/pictures.contract'
import { Money } from './money'

interface MeterDayTableProps {
  day: DayFrame
  present: DayPoint | undefined
  currency: Currency
  zone: string
  isOver: boolean
}

/** The line of the day in words and figures: what had counted after each close. */
export function MeterDayTable({ day, present, currency, zone, isOver }: MeterDayTableProps) {
  const last = present ? [{ ...present, words: isOver ? 'End of the day' : 'Now' }] : []
  const rows = [
    ...day.closes.map((close) => ({ ...close, words: `Lot ${close.lot} ${close.hammerMinor === null ? 'unsold' : 'sold'}` })),
    ...last,
  ]
  return (
    <details>
      <summary>The same as a table</summary>
      <table className="cards">
        <caption>What counted after each close, {currency}</caption>
        <thead>
          <tr>
            <th scope="col">After</th>
            <th scope="col" className="num">
              At
            </th>
            <th scope="col" className="num">
              Paid
            </th>
            <th scope="col" className="num">
              Won
            </th>
            <th scope="col" className="num">
              In bids
            </th>
            <th scope="col" className="num">
              Together
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ words, at, paidMinor, wonMinor, bidMinor }) => (
            <tr key={words}>
              <th scope="row">{words}</th>
              <td data-label="At" className="num">
                {sayTime(civilIn(at, zone))}
              </td>
              {(
                [
                  ['Paid', paidMinor],
                  ['Won', wonMinor],
                  ['In bids', bidMinor],
                  ['Together', paidMinor + wonMinor + bidMinor],
                ] as const
              ).map(([label, minor]) => (
                <td key={label} data-label={label} className="num">
                  <Money minor={minor} currency={currency} />
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  )
}
