import Link from 'next/link'
import { Money } from '#app/_ui/money.tsx'
import type { Currency } from '#kernel/money'
import type { CostLine } from '#money/books/books.contract'
import { ABOUT_WORDS, BEARER_WORDS } from './cost-words'

export function CostTable({ costs, currency }: { costs: readonly CostLine[]; currency: Currency }) {
  const sum = costs.reduce((total, { amountMinor }) => total + amountMinor, 0)
  return (
    <div className="scroll">
      <table className="cards">
        <caption>Costs and fees that stand, {currency}. Reverse a wrong one in the journal.</caption>
        <thead>
          <tr>
            <th scope="col">What</th>
            <th scope="col">For</th>
            <th scope="col">Borne by</th>
            <th scope="col" className="num">
              Day
            </th>
            <th scope="col" className="num">
              Amount
            </th>
          </tr>
        </thead>
        <tbody>
          {costs.map((cost) => (
            <tr key={cost.entryId}>
              <th scope="row">{cost.memo}</th>
              <td data-label="For">
                <span>
                  {cost.isFee ? 'Fee' : ABOUT_WORDS[cost.about]}
                  {cost.run && `, ${cost.run}`}
                  {cost.lot !== null && (
                    <>
                      {', '}
                      <Link prefetch={false} href={`/bench/money/${cost.lot}`}>
                        lot {cost.lot}
                      </Link>
                    </>
                  )}
                </span>
              </td>
              <td data-label="Borne by">{BEARER_WORDS[cost.bearer]}</td>
              <td data-label="Day" className="num">
                {cost.valueOn}
              </td>
              <td data-label="Amount" className="num">
                <Money minor={cost.amountMinor} currency={currency} />
              </td>
            </tr>
          ))}
        </tbody>
        <tfoot>
          <tr>
            <th scope="row" colSpan={4}>
              Together
            </th>
            <td data-label="Together" className="num">
              <Money minor={sum} currency={currency} />
            </td>
          </tr>
        </tfoot>
      </table>
    </div>
  )
}
