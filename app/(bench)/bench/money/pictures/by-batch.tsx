import { Bar, Key, longest } from '#app/_ui/bars/bar.tsx'
import { BarTable } from '#app/_ui/bars/bar-table.tsx'
import { type Minor, showMoney } from '#kernel/money'
import type { MoneyPictures } from '#money/pictures/pictures.contract'

/** What each batch of machines raised at the hammer beside what it cost. */
export function ByBatch({ batches, sharedCostMinor, currency }: Pick<MoneyPictures, 'batches' | 'sharedCostMinor' | 'currency'>) {
  const show = (minor: Minor) => showMoney(minor, currency)
  const top = longest([...batches.flatMap(({ raisedMinor, costMinor }) => [raisedMinor, costMinor]), sharedCostMinor])
  const raised = batches.reduce((sum, { raisedMinor }) => sum + raisedMinor, 0)
  const spent = spentOn({ batches, sharedCostMinor })
  return (
    <section className="stack close" aria-labelledby="batches">
      <h2 id="batches">What the batches cost, and what they raised</h2>
      <p>
        {show(spent)} was spent and {show(raised)} raised at the hammer.
      </p>
      <Key parts={[['paid', 'raised at the hammer'] as const, ['cost', 'costs and fees'] as const]} />
      <BarTable caption={`Raised and spent, by batch of machines, ${currency}`} heads={['Batch', 'Bars', 'Raised, and spent']}>
        {batches.map(({ run, design, sold, raisedMinor, costMinor }) => (
          <tr key={run}>
            <th scope="row">
              <span className="code">{run}</span> {design}
              <div className="small quiet">{sold === 0 ? 'none sold' : sold === 1 ? 'one sold' : `${sold} sold`}</div>
            </th>
            <td>
              {raisedMinor > 0 && <Bar of={top} parts={[['paid', raisedMinor]]} />}
              {costMinor > 0 && <Bar of={top} parts={[['cost', costMinor]]} />}
            </td>
            <td className="num">
              <div>{show(raisedMinor)}</div>
              <div>{show(costMinor)}</div>
            </td>
          </tr>
        ))}
        {sharedCostMinor > 0 && (
          <tr>
            <th scope="row">For all of them</th>
            <td>
              <Bar of={top} parts={[['cost', sharedCostMinor]]} />
            </td>
            <td className="num">{show(sharedCostMinor)}</td>
          </tr>
        )}
      </BarTable>
      <p className="small quiet">Donated parts and hours have no price here.</p>
    </section>
  )
}

/** Costs and fees of every batch, and those of no single one. */
export const spentOn = ({ batches, sharedCostMinor }: Pick<MoneyPictures, 'batches' | 'sharedCostMinor'>): Minor =>
  batches.reduce((sum, { costMinor }) => sum + costMinor, sharedCostMinor)
