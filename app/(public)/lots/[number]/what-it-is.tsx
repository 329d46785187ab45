import type { LotPage } from '#floor/lot-page/lot-page.service'
import { showMoney } from '#kernel/money'
import type { PublishedValue } from '#money/relief/relief.contract'

interface WhatItIsProps {
  page: LotPage
  /** What of its story does not stand at the head of the page. */
  more: readonly string[]
  /** What the same can be had for elsewhere, where that was published before bidding. */
  value: PublishedValue | null
}

/** What is sold, in the maker's words: its story, what comes with it, and the figures that were published before bidding. */
export function WhatItIs({ page, more, value }: WhatItIsProps) {
  const { card } = page
  return (
    <section className="stack close">
      {more.length > 0 && <h2>Its story</h2>}
      {more.map((paragraph) => (
        <p key={paragraph}>{paragraph}</p>
      ))}
      {page.extras.length > 0 && (
        <>
          <h3>Comes with</h3>
          <ul>
            {page.extras.map((extra) => (
              <li key={extra}>{extra}</li>
            ))}
          </ul>
        </>
      )}
      {card.lowMinor !== null && card.highMinor !== null && (
        <p className="small quiet">
          Estimate, published before bidding: {showMoney(card.lowMinor, card.currency, { short: true })} to{' '}
          {showMoney(card.highMinor, card.currency, { short: true })}.
        </p>
      )}
      {value && (
        <p className="small quiet">
          The same can be had for {showMoney(value.valueMinor, value.currency)}: {value.knownFrom}. Published before bidding.
        </p>
      )}
    </section>
  )
}
