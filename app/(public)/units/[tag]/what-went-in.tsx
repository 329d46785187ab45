import { Money } from '#app/_ui/money.tsx'
import { sayMinutes } from '#bench/spent/minutes.rules'
import type { ShownSpent } from '#bench/spent/spent.contract'

/** Hours and parts, where the maker chose that everybody may read of them. */
export function WhatWentIn({ spent: { minutes, parts } }: { spent: ShownSpent }) {
  return (
    <section className="stack close" aria-labelledby="went-in">
      <h2 id="went-in">What went into it</h2>
      <ul>
        {minutes !== null && <li>{sayMinutes(minutes)} at the bench, as noted there.</li>}
        {parts && (
          <li>
            Parts that would cost <Money minor={parts.minor} currency={parts.currency} /> to buy again, by the maker’s own prices
            {parts.unpriced > 0 &&
              `, without ${parts.unpriced === 1 ? 'one piece' : `${parts.unpriced} pieces`} of which no price is known`}
            .
          </li>
        )}
      </ul>
    </section>
  )
}
