'use client'

import Link from 'next/link'
import { lazy, Suspense, useState } from 'react'
import { Notice } from '#app/_ui/notice.tsx'
import type { LotPage } from '#floor/lot-page/lot-page.service'
import { showMoney } from '#kernel/money'
import type { LotFrame, MySide } from '#sale/bidding/bidding.contract'
import type { Ladder } from '#sale/price/ladder.rules'
import { LotEnded } from './lot-ended'
import { SoldElsewhere } from './sold-elsewhere'
import { YourSide } from './your-side'

// Only who is signed in and may bid has them in their page, and nobody else loads them.
const BidForm = lazy(() => import('./bid-form').then(({ BidForm: form }) => ({ default: form })))
const SideWords = lazy(() => import('./side-words').then(({ SideWords: words }) => ({ default: words })))

/** What of a lot's page its bidding needs. */
export type BidPage = Pick<LotPage, 'zone' | 'like'> & {
  elsewhereUrl: string | null
  resultSource: string | null
  /** The estimate published before bidding; null where there is none. */
  highMinor: number | null
}

interface BidPanelProps {
  frame: LotFrame
  page: BidPage
  ladder: Ladder
  side: MySide | null
  alias: string | null
  countryName: string
  onAlias: (alias: string) => void
}

/** What the reader can do about this lot now: bid, or what comes before it, or how it ended for them. */
export function BidPanel({ frame, page, ladder, side, alias, countryName, onAlias }: BidPanelProps) {
  const [isShown, setShown] = useState(false)
  const isVoided = alias !== null && frame.voidedAliases.includes(alias)
  const show = (amount: number) => showMoney(amount, frame.currency, { short: true })
  const here = encodeURIComponent(`/lots/${frame.number}`)
  if (page.elsewhereUrl) return <SoldElsewhere frame={frame} url={page.elsewhereUrl} source={page.resultSource} />
  if (frame.state === 'sold' || frame.state === 'unsold' || frame.state === 'withdrawn')
    return <LotEnded frame={frame} page={page} side={side} alias={alias} countryName={countryName} />
  if (frame.state === 'held')
    return (
      <Notice tone="doubt" title="All clocks stand still for this lot">
        {frame.heldReason} Bids are taken again once it goes on, with what was left on its clock or a quarter of an hour at least.
      </Notice>
    )
  if (frame.state === 'ready')
    return <p className="small">It opens once its record, terms and closing are complete. The page shows it by itself.</p>
  if (!side)
    return (
      <div className="stack close">
        <p>
          To bid, sign in with an email address and take a paddle. From {show(frame.leastNextMinor ?? 0)}; you pay one step over the next
          bidder.
        </p>
        <Link prefetch={false} className="button" href={`/sign-in?next=${here}`}>
          Sign in to bid
        </Link>
      </div>
    )
  if (side.lacksPaddle)
    return (
      <div className="stack close">
        <p>{side.barred}</p>
        <Link prefetch={false} className="button" href={`/paddle?next=${here}`}>
          Take your paddle
        </Link>
      </div>
    )
  if (side.barred) return <p>{side.barred}</p>
  if (isVoided) return <p>Your bids on this lot were voided. Write to us if that is wrong.</p>
  return (
    <>
      {alias && <YourSide frame={frame} side={side} alias={alias} isShown={isShown} onShow={setShown} />}
      {side.isInEitherOr ? (
        <p>
          This lot stands in your either-or.{' '}
          <Link prefetch={false} href="/me/either-or">
            Change its maximum there
          </Link>
          .
        </p>
      ) : (
        <Suspense>
          <BidForm
            highMinor={page.highMinor}
            isFolded={alias !== null && frame.leaderAlias === alias && !isShown}
            onTaken={() => setShown(false)}
            frame={frame}
            ladder={ladder}
            side={side}
            alias={alias}
            countryName={countryName}
            onAlias={onAlias}
          />
        </Suspense>
      )}
      {!side.isInEitherOr && alias === null && (
        <p className="small">
          Would another do as well?{' '}
          <Link prefetch={false} href={`/me/either-or?lot=${frame.number}`}>
            Bid on either this or the other
          </Link>
        </p>
      )}
      <Suspense>
        <SideWords lot={frame.number} side={side} hasBid={alias !== null} />
      </Suspense>
      <noscript>
        <p>Bidding needs a browser that runs scripts. Everything else on this page works without.</p>
      </noscript>
    </>
  )
}
