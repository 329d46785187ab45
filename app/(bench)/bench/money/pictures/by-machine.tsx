import Link from 'next/link'
import { Bar, Key, longest } from '#app/_ui/bars/bar.tsx'
import { BarTable } from '#app/_ui/bars/bar-table.tsx'
import { type Minor, showMoney } from '#kernel/money'
import type { MoneyPictures } from '#money/pictures/pictures.contract'

/** What each machine brought for the cause, paid and not yet paid; gifts of money are a row of their own. */
export function ByMachine({ machines, currency }: Pick<MoneyPictures, 'machines' | 'currency'>) {
  const show = (minor: Minor) => showMoney(minor, currency)
  const top = longest(machines.map(({ paidMinor, wonMinor }) => paidMinor + wonMinor))
  return (
    <section className="stack close" aria-labelledby="machines">
      <h2 id="machines">By machine</h2>
      <Key parts={[['paid', 'paid'] as const, ['won', 'won, not yet paid'] as const]} />
      <BarTable caption={`For the cause, by machine, ${currency}`} heads={['From', 'Bar', 'For the cause']}>
        {machines.map(({ words, lot, paidMinor, wonMinor }) => (
          <tr key={words}>
            <th scope="row">
              {lot === null ? (
                words
              ) : (
                <Link prefetch={false} href={`/bench/money/${lot}`}>
                  {words}
                </Link>
              )}
            </th>
            <td>
              <Bar
                of={top}
                parts={[
                  ['paid', paidMinor],
                  ['won', wonMinor],
                ]}
              />
            </td>
            <td className="num">
              {show(paidMinor + wonMinor)}
              {wonMinor > 0 && <div className="small quiet">{show(wonMinor)} unpaid</div>}
            </td>
          </tr>
        ))}
      </BarTable>
    </section>
  )
}
