import { Chip } from '#app/_ui/chip.tsx'
import { SumLines } from '#app/_ui/sum-lines.tsx'
import { CURRENCIES, type Currency, showMoney } from '#kernel/money'
import type { PromiseLine } from '#money/matching/matching.contract'
import { EndPromiseButton, ReceiveMatchButton } from './promise-actions'

/** What was promised, what of it is earned, what has come. */
export function PromiseList({ promises, currency, mayWrite }: { promises: readonly PromiseLine[]; currency: Currency; mayWrite: boolean }) {
  const show = (minor: number) => showMoney(minor, currency)
  const sign = CURRENCIES[currency].sign.trim()
  return (
    <ul className="tiles">
      {promises.map((promise) => (
        <li key={promise.id} className="sheet stack close">
          <h3 className="row apart">
            {promise.from}
            {promise.endedAt !== null ? <Chip>Ended</Chip> : promise.isCapped && <Chip tone="ok">Cap reached</Chip>}
          </h3>
          <p>
            {sign}
            {promise.ratioBp / 100} for each {sign}100 of {promise.base}, up to {show(promise.capMinor)}.
            {promise.endedWhy && ` Ended: ${promise.endedWhy}`}
          </p>
          <SumLines
            lines={[
              { words: 'On standing bids', amount: show(promise.bidMinor) },
              { words: 'On lots won and not yet paid', amount: show(promise.wonMinor - promise.dueMinor) },
              { words: 'Earned, to be asked for now', amount: show(promise.dueMinor) },
              { words: 'Received', amount: show(promise.receivedMinor) },
              {
                words: 'Together',
                amount: show(promise.bidMinor + promise.wonMinor + promise.receivedMinor),
                isSum: true,
              },
            ]}
          />
          {mayWrite && (
            <div className="row">
              {promise.receivedMinor < promise.capMinor && <ReceiveMatchButton promise={promise} currency={currency} />}
              {promise.endedAt === null && <EndPromiseButton promise={promise} />}
            </div>
          )}
        </li>
      ))}
    </ul>
  )
}
