import Link from 'next/link'
import { PriceForm } from '#app/(bench)/bench/parts/[id]/price-form.tsx'
import type { SpentPage } from '#bench/spent/spent.contract'
import type { Currency } from '#kernel/money'

/** So many at once: the list is long in a house that begins with prices, and the first are those that weigh most. */
const AT_ONCE = 8

/** Parts in machines of which nobody has said what they would cost, each with a form of its own. */
export function PriceList({ parts, currency }: { parts: SpentPage['unpriced']; currency: Currency }) {
  const rest = parts.length - AT_ONCE
  return (
    <section className="sheet stack" aria-labelledby="unpriced">
      <h2 id="unpriced">Parts without a price</h2>
      <p>
        {parts.length === 1 ? 'One part that sits in machines has none.' : `${parts.length} parts that sit in machines have none.`} A price
        may be for a hundred, as resistors are sold.
      </p>
      <div className="stack">
        {parts.slice(0, AT_ONCE).map(({ partId, words, pieces }) => (
          <details key={partId}>
            <summary>
              {words} <span className="small quiet">{pieces === 1 ? '1 piece fitted' : `${pieces} pieces fitted`}</span>
            </summary>
            <PriceForm of={{ partId }} name={words} price={null} currency={currency} />
            <p className="small">
              <Link href={`/bench/parts/${partId}`}>Its batches</Link>, where one of them can have a price of its own
            </p>
          </details>
        ))}
      </div>
      {rest > 0 && (
        <p className="small quiet">
          {rest === 1 ? 'One more follows' : `${rest} more follow`} once these have a price; every part’s page has the same form.
        </p>
      )}
    </section>
  )
}
