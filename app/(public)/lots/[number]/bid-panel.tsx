'use client'

import Link from 'next/link'
import { useState } from 'react'
import { Notice } from '#app/_ui/notice.tsx'
import { When } from '#app/_ui/when.tsx'
import { showMoney } from '#kernel/money'
import type { LotFrame, MySide } from '#sale/bidding/bidding.contract'
import type { Ladder } from '#sale/price/ladder.rules'
import { BidForm } from './bid-form'
import type { LotSaleProps } from './lot-sale'
import { SideWords } from './side-words'
import { YourSide } from './your-side'

interface BidPanelProps {
  frame: LotFrame
  page: LotSaleProps['page']
  ladder: Ladder
  side: MySide | null
  alias: string | null
  countryName: string
  onAlias: (alias: string) => void
}

/** What the reader can do about this lot now: bid, or what comes before it, or how it ended for them. */
export function BidPanel({ frame, page, ladder, side, alias, countryName, onAlias }: BidPanelProps) {
  const [isShown, setShown] = useState(false)
  const show = (amount: number) => showMoney(amount, frame.currency, { short: true })
  const here = encodeURIComponent(`/lots/${frame.number}`)
  if (page.elsewhereUrl) return <Elsewhere frame={frame} url={page.elsewhereUrl} source={page.resultSource} />
  if (frame.state === 'sold' || frame.state === 'unsold' || frame.state === 'withdrawn')
    return <Ended frame={frame} page={page} side={side} alias={alias} countryName={countryName} />
  if (frame.state === 'held')
    return (
      <Notice tone="doubt" title="All clocks stand still for this lot">
        {frame.heldReason} Bids are taken again once it goes on, and its closing moves by at least the time held.
      </Notice>
    )
  if (frame.state === 'ready')
    return <p className="small">It opens once its record, terms and closing are complete. The page shows it by itself.</p>
  if (!side)
    return (
      <div className="stack close">
        <p>
          To bid, sign in with a mail address and take a paddle. From {show(frame.leastNextMinor ?? 0)}; you pay one step over the next
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
      )}
      {!side.isInEitherOr && alias === null && (
        <p className="small">
          Would another do as well?{' '}
          <Link prefetch={false} href={`/me/either-or?lot=${frame.number}`}>
            Bid on either this or the other
          </Link>
        </p>
      )}
      <SideWords lot={frame.number} side={side} hasBid={alias !== null} />
      <noscript>
        <p>Bidding needs a browser that runs scripts. Everything else on this page works without.</p>
      </noscript>
    </>
  )
}

/** Sold under another address: the closing, the record and the credits are here, the bidding is there. */
function Elsewhere({ frame, url, source }: { frame: LotFrame; url: string; source: string | null }) {
  const host = new URL(url).host
  const isWaiting = frame.state === 'open' && frame.closesAt !== null && frame.closesAt <= frame.serverNow
  return (
    <div className="stack close">
      {frame.state === 'sold' || frame.state === 'unsold' ? (
        <p>
          It was offered at {host}. {source && `The result was entered by hand; its source: ${source}`}
        </p>
      ) : isWaiting ? (
        <p>It has closed at {host}. Its result is entered here by hand as soon as it is known.</p>
      ) : (
        <p>This lot is sold elsewhere, with the same closing, credits and record.</p>
      )}
      <a className="button-line" href={url} rel="noreferrer">
        {frame.state === 'open' && !isWaiting ? `Bid at ${host}` : `See it at ${host}`}
      </a>
    </div>
  )
}

function Ended({ frame, page, side, alias, countryName }: Pick<BidPanelProps, 'frame' | 'page' | 'side' | 'alias' | 'countryName'>) {
  const show = (amount: number) => showMoney(amount, frame.currency)
  if (frame.state !== 'sold' || frame.hammerMinor === null || alias === null) return null
  const next = page.like.find(({ closesAt }) => closesAt > frame.serverNow)
  if (frame.leaderAlias !== alias)
    return (
      <Notice tone="info" title="You did not win this one" live="status">
        Somebody else had allowed more. You owe nothing for it.{' '}
        {next && (
          <>
            The next one like it is{' '}
            <Link prefetch={false} href={`/lots/${next.number}`}>
              lot {next.number}, {next.title}
            </Link>
            , which closes <When at={next.closesAt} zone={page.zone} />.
          </>
        )}
      </Notice>
    )
  const postage = side?.postageMinor ?? null
  return (
    <Notice tone="ok" live="status" title={`You won it at ${show(frame.hammerMinor)}`}>
      {postage !== null && `With postage to ${countryName}: ${show(frame.hammerMinor + postage)}. `}
      How to pay is in the mail.{' '}
      <Link prefetch={false} href={`/me/won/${frame.number}`}>
        Pay it, and say where it goes
      </Link>
    </Notice>
  )
}
