import Link from 'next/link'
import { Chip } from '#app/_ui/chip.tsx'
import { Money } from '#app/_ui/money.tsx'
import type { Currency } from '#kernel/money'
import type { SoldLot } from '#money/journal/sold.contract'
import { CreditorReference } from './creditor-reference'

/** Every sold lot and where its money stands. The first cell leads to where a payment is marked. */
export function SoldTable({ lots, currency }: { lots: readonly SoldLot[]; currency: Currency }) {
  return (
    <div className="scroll">
      <table className="cards">
        <caption>Sold lots, {currency}</caption>
        <thead>
          <tr>
            <th scope="col">Lot</th>
            <th scope="col">Buyer</th>
            <th scope="col">Reference</th>
            <th scope="col" className="num">
              Hammer
            </th>
            <th scope="col" className="num">
              Postage
            </th>
            <th scope="col" className="num">
              To pay
            </th>
            <th scope="col">Stands</th>
          </tr>
        </thead>
        <tbody>
          {lots.map((lot) => (
            <tr key={lot.number}>
              <th scope="row">
                <Link prefetch={false} href={`/bench/money/${lot.number}`}>
                  Lot {lot.number}
                </Link>
                <div className="small quiet">{lot.title}</div>
              </th>
              <td data-label="Buyer">
                <span>
                  {lot.buyer}
                  {lot.paddle !== null && <span className="quiet">, paddle {lot.paddle}</span>}
                </span>
              </td>
              <td data-label="Reference">
                <CreditorReference reference={lot.reference} />
              </td>
              <td data-label="Hammer" className="num">
                <Money minor={lot.hammerMinor} currency={currency} />
              </td>
              <td data-label="Postage" className="num">
                <Money minor={lot.postageMinor} currency={currency} />
              </td>
              <td data-label="To pay" className="num">
                <Money minor={lot.owedMinor} currency={currency} />
              </td>
              <td data-label="Stands">
                <State state={lot.state} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}

function State({ state }: { state: SoldLot['state'] }) {
  if (state === 'won') return <Chip tone="copper">Won</Chip>
  if (state === 'part paid') return <Chip tone="doubt">Part paid</Chip>
  if (state === 'fell through') return <Chip tone="bad">Fell through</Chip>
  return state === 'paid' ? <Chip tone="ok">Paid</Chip> : <>remitted</>
}
