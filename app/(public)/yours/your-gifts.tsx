import Link from 'next/link'
import { Tag } from '#app/_ui/tag.tsx'
import { When } from '#app/_ui/when.tsx'
import type { SoldLot, YourGift, Yours } from '#gifts/yours/yours.contract'
import { type Currency, showMoney } from '#kernel/money'
import { comesTo, soldWords } from '#sale/price/result.rules'
import type { GiftState } from '#stock/donors/donor.contract'
import styles from './yours.module.css'

const STATES: Record<GiftState, string> = {
  promised: 'Promised, not here yet',
  'on its way': 'On its way to us',
  arrived: 'Here, not counted yet',
  counted: 'Here, and counted',
  inspected: 'Here, and looked at',
  available: 'Here, and in use',
  fitted: 'Fitted',
  spare: 'Kept as a spare',
  quarantined: 'Set aside: something about it is in doubt, and we are looking into it',
  declined: 'We could not take it, with thanks all the same',
  returned: 'It went back to you, with thanks all the same',
  destroyed: 'It could not be used in the end',
}

/** Every gift with what it became, down to the positions in each machine. */
export function YourGifts({ yours }: { yours: Yours }) {
  const { gifts, zone, currency } = yours
  return (
    <section className="stack" aria-labelledby="gifts">
      <h2 id="gifts">{gifts.length === 0 ? 'Nothing has arrived yet' : gifts.length === 1 ? 'Your gift' : `Your ${gifts.length} gifts`}</h2>
      {gifts.map((gift, index) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: the page gives no ids out, and the list is read whole each time.
        <article key={index} className={`sheet stack close ${styles.gift}`}>
          <h3>{gift.what}</h3>
          <p className="small quiet">
            {STATES[gift.state]}
            {gift.arrivedAt !== null ? (
              <>
                ; came on <When at={gift.arrivedAt} zone={zone} show="day" brief />
              </>
            ) : (
              gift.promisedAt !== null && (
                <>
                  ; promised on <When at={gift.promisedAt} zone={zone} show="day" brief />
                </>
              )
            )}
          </p>
          {gift.reason !== '' && <p>{gift.reason}</p>}
          {gift.sentences.map((words) => (
            <p key={words} className={styles.became}>
              {words}
            </p>
          ))}
          <Machines gift={gift} currency={currency} />
        </article>
      ))}
    </section>
  )
}

function Machines({ gift, currency }: { gift: YourGift; currency: Currency }) {
  if (gift.machines.length === 0 && gift.withLots.length === 0) return null
  return (
    <ul className={`plain-list ${styles.machines}`}>
      {gift.machines.map(({ tag, designators, hasRecord, lot }) => (
        <li key={tag}>
          <Tag code={tag} href={hasRecord ? `/units/${tag}` : undefined}>
            {designators.length > 0 && <p className="code several small">{designators.join(', ')}</p>}
            {lot ? <LotLine lot={lot} currency={currency} /> : <p className="small quiet">not in a lot yet</p>}
          </Tag>
        </li>
      ))}
      {gift.withLots.map((lot) => (
        <li key={lot.number}>
          <Tag code={`Lot ${lot.number}`} href={`/lots/${lot.number}`}>
            <LotLine lot={lot} currency={currency} />
          </Tag>
        </li>
      ))}
    </ul>
  )
}

const lowered = (words: string): string => words.charAt(0).toLowerCase() + words.slice(1)

function LotLine({ lot, currency }: { lot: SoldLot; currency: Currency }) {
  const { number, state, hammerMinor } = lot
  const words =
    (state === 'sold' && hammerMinor !== null) || comesTo(lot) > 0
      ? lowered(soldWords(lot, (minor) => showMoney(minor, currency)))
      : state === 'open'
        ? 'open for bids now'
        : state === 'held'
          ? 'on hold'
          : state === 'ready'
            ? 'about to be sold'
            : state
  return (
    <p className="small">
      <Link href={`/lots/${number}`}>Lot {number}</Link>, {words}
    </p>
  )
}
