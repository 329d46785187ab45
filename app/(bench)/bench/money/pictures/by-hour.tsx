import { Bar, Key, longest } from '#app/_ui/bars/bar.tsx'
import { BarTable } from '#app/_ui/bars/bar-table.tsx'
import { showMoney } from '#kernel/money'
import { civilIn, sayDay, sayTime } from '#kernel/wall-clock'
import type { MoneyPictures } from '#money/pictures/pictures.contract'

/** What each hour of the campaign's clock brought for the cause. */
export function ByHour({ hours, currency, zone }: Pick<MoneyPictures, 'hours' | 'currency' | 'zone'>) {
  const top = longest(hours.map(({ lotsMinor, giftMinor, matchedMinor }) => lotsMinor + giftMinor + matchedMinor))
  return (
    <section className="stack close" aria-labelledby="hours">
      <h2 id="hours">By hour</h2>
      <Key parts={[['won', 'hammer prices'] as const, ['gift', 'gifts'] as const, ['matched', 'matched giving'] as const]} />
      <BarTable caption={`For the cause, by hour of the campaign’s clock, ${currency}`} heads={['Hour', 'Bar', 'For the cause']}>
        {hours.map(({ fromAt, lotsMinor, giftMinor, matchedMinor }) => (
          <tr key={fromAt}>
            <th scope="row">
              {sayTime(civilIn(fromAt, zone))} <span className="small quiet">{sayDay(civilIn(fromAt, zone))}</span>
            </th>
            <td>
              <Bar
                of={top}
                parts={[
                  ['won', lotsMinor],
                  ['gift', giftMinor],
                  ['matched', matchedMinor],
                ]}
              />
            </td>
            <td className="num">{showMoney(lotsMinor + giftMinor + matchedMinor, currency)}</td>
          </tr>
        ))}
      </BarTable>
    </section>
  )
}
