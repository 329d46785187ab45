'use client'

import type { HostFrames } from '#air/screens/air.contract'
import { standsWords } from '#air/screens/host.rules'
import { clockLeft } from '#app/_ui/countdown.rules.ts'
import type { Instant } from '#kernel/instant'
import { showMoney } from '#kernel/money'
import { showClock } from '#kernel/wall-clock'
import { leftUntil } from '#sale/price/closing.rules'
import { useAir } from '../use-air'

/** Every item of the day in the order in which it runs, with what each lot stands at. */
export function DaySheet({ initial, serverNow }: { initial: HostFrames; serverNow: Instant }) {
  const { now, programme, lots } = useAir(initial, serverNow)
  const { items, zone, closesAt } = programme
  const show = (minor: number) => showMoney(minor, initial.currency, { short: true })
  return (
    <div className="air-ground">
      <table className="cards">
        <caption>The whole day; the stream ends at {showClock(closesAt, zone)}</caption>
        <thead>
          <tr>
            <th scope="col">Time</th>
            <th scope="col">What</th>
            <th scope="col">As it stands</th>
            <th scope="col">Left</th>
          </tr>
        </thead>
        <tbody>
          {items.map((item) => {
            const lot = lots.find(({ number }) => number === item.lot)
            const at = item.kind === 'closing' ? item.runsTo : item.startsAt
            const left = item.isOver ? null : leftUntil(at, now, item.heldSince)
            return (
              <tr key={item.id}>
                <td className="num" data-label="Time">
                  {showClock(at, zone)}
                  {item.kind !== 'closing' && `–${showClock(item.endsAt, zone)}`}
                </td>
                <th scope="row">{item.title}</th>
                <td data-label="As it stands">{lot ? standsWords(item, lot, show) : item.kind}</td>
                <td className="num" data-label="Left">
                  {left === null ? 'over' : left <= 0 ? 'now' : clockLeft(left)}
                  {item.heldSince !== null && ' held'}
                </td>
              </tr>
            )
          })}
        </tbody>
      </table>
    </div>
  )
}
