import Link from 'next/link'
import { Chip } from '#app/_ui/chip.tsx'
import { CopyButton } from '#app/_ui/copy-button.tsx'
import { showMoney } from '#kernel/money'
import type { Basket } from '#money/invoices/invoices.contract'
import { longDay } from '#money/invoices/words.rules'

/** Everything that is still to be paid, with one total; each under the reference by which it is known. */
export function BasketSheet({ basket }: { basket: Basket }) {
  const show = (minor: number) => showMoney(minor, basket.currency)
  if (basket.lots.length === 0) return null
  const isTogether = new Set(basket.lots.map(({ reference }) => reference)).size < basket.lots.length
  return (
    <section className="sheet act stack" aria-labelledby="basket">
      <h2 id="basket">{show(basket.totalMinor)} to pay</h2>
      <table className="cards">
        <caption className="visually-hidden">Lots you have won and still have to pay for</caption>
        <thead>
          <tr>
            <th scope="col">Lot</th>
            <th scope="col">By</th>
            <th scope="col">Reference</th>
            <th scope="col" className="num">
              To pay
            </th>
          </tr>
        </thead>
        <tbody>
          {basket.lots.map(({ lot, title, owedMinor, reference, dueOn, daysLate }) => (
            <tr key={lot}>
              <th scope="row">
                <Link prefetch={false} href={`/me/won/${lot}`}>
                  Lot {lot}, {title}
                </Link>
              </th>
              <td data-label="By">
                {longDay(dueOn)} {daysLate > 0 && <Chip tone="bad">Late</Chip>}
              </td>
              <td data-label="Reference">
                <span className="code several">{reference}</span> <CopyButton text={reference} what={`the reference of lot ${lot}`} />
              </td>
              <td data-label="To pay" className="num">
                {show(owedMinor)}
              </td>
            </tr>
          ))}
        </tbody>
        {basket.lots.length > 1 && (
          <tfoot>
            <tr>
              <th scope="row" colSpan={3}>
                Together
              </th>
              <td className="num">{show(basket.totalMinor)}</td>
            </tr>
          </tfoot>
        )}
      </table>
      {basket.lots.length > 1 && (
        <p className="small quiet">
          {isTogether
            ? 'Lots with the same reference are paid together, in one payment.'
            : 'Each is paid with its own reference: it is how your payment is recognised.'}{' '}
          Each lot’s page says how to pay. You can also have{' '}
          <Link prefetch={false} href="/me/invoices">
            one invoice for all of them
          </Link>
          , with one reference and one payment.
        </p>
      )}
    </section>
  )
}
