'use client'

import Link from 'next/link'
import { useRouter } from 'next/navigation'
import { lazy, Suspense, useEffect, useState } from 'react'
import { Notice } from '#app/_ui/notice.tsx'
import type { LotPage } from '#floor/lot-page/lot-page.service'
import { showMoney } from '#kernel/money'
import type { LotFrame, MySide } from '#sale/bidding/bidding.contract'
import type { Ladder } from '#sale/price/ladder.rules'
import type { Afterwards } from '#sale/price/result.rules'
import { type Draft, firstChoice } from './draft.rules'
import { LotEnded } from './lot-ended'
import { SoldElsewhere } from './sold-elsewhere'
import { YourSide } from './your-side'

// Only who is signed in and may bid has them in their page; anybody else loads them when they want to bid.
const BidForm = lazy(() => import('./bid-form').then(({ BidForm: form }) => ({ default: form })))
const SignInForm = lazy(() => import('#app/(public)/sign-in/sign-in-form.tsx').then(({ SignInForm: form }) => ({ default: form })))
const SideWords = lazy(() => import('./side-words').then(({ SideWords: words }) => ({ default: words })))

/** What of a lot's page its bidding needs. */
export type BidPage = Pick<LotPage, 'zone' | 'like'> & {
  elsewhereUrl: string | null
  resultSource: string | null
  /** The estimate published before bidding; null where there is none. */
  highMinor: number | null
  afterwards: Afterwards
}

interface BidPanelProps {
  frame: LotFrame
  page: BidPage
  ladder: Ladder
  side: MySide | null
  alias: string | null
  /** It stands above already that the reader was outbid. */
  isOutbidSaid: boolean
  countryName: string
  onAlias: (alias: string) => void
  /** The house refused a bid: what is known of the reader may be out of date. */
  onRefused: () => void
  /** Changes when the strip opens the form. */
  openings: number
}

/** What the reader can do about this lot now: bid, or what comes before it, or how it ended for them. */
export function BidPanel({ frame, page, ladder, side, alias, isOutbidSaid, countryName, onAlias, onRefused, openings }: BidPanelProps) {
  const router = useRouter()
  const [isShown, setShown] = useState(false)
  // Whoever leads and raises need not show what they allow: screens are shared.
  const [isRaising, setRaising] = useState(false)
  // Who is not signed in has asked for the form; it is loaded then.
  const [isAsked, setAsked] = useState(false)
  // Who opens the form by the strip while they lead wants to raise.
  useEffect(() => {
    if (openings === 0) return
    setRaising(true)
    setAsked(true)
  }, [openings])
  // Who was signed out in the middle of it keeps the form, and signs in with what stands there.
  const isSignedIn = side !== null
  useEffect(() => {
    if (isSignedIn) setAsked(true)
  }, [isSignedIn])
  // As the page comes it names an amount: a button that is tapped before the page can answer means what it says.
  const [draft, setDraft] = useState<Draft>({ choice: firstChoice(ladder, frame.leastNextMinor ?? 0), typed: '' })
  const isVoided = alias !== null && frame.voidedAliases.includes(alias)
  const least = showMoney(frame.leastNextMinor ?? 0, frame.currency, { short: true })
  const show = (isToShow: boolean) => {
    setShown(isToShow)
    setRaising(isToShow)
  }
  const here = encodeURIComponent(`/lots/${frame.number}#bid`)
  if (page.elsewhereUrl) return <SoldElsewhere frame={frame} url={page.elsewhereUrl} source={page.resultSource} />
  if (frame.state === 'sold' || frame.state === 'unsold' || frame.state === 'withdrawn')
    return <LotEnded frame={frame} page={page} side={side} alias={alias} countryName={countryName} />
  if (frame.state === 'held')
    return (
      <>
        <Notice tone="doubt" title="This lot is on hold">
          {frame.heldReason} You can bid again once its clock restarts, with the time that was left or a quarter of an hour, whichever is
          longer.
        </Notice>
        {side === null && (
          <>
            <p>Sign in now, so that you can bid as soon as it restarts.</p>
            {isAsked ? (
              <Suspense>
                <SignInForm onSignedIn={() => router.refresh()} />
              </Suspense>
            ) : (
              <button type="button" className="button-line needs-script" onClick={() => setAsked(true)}>
                Sign in
              </button>
            )}
          </>
        )}
      </>
    )
  if (frame.state === 'ready')
    return <p className="small">Bidding opens once its record, terms and closing are complete. This page will show it without a reload.</p>
  if (side?.lacksPaddle)
    return (
      <div className="stack close">
        <p>{side.barred}</p>
        <Link prefetch={false} className="button" href={`/paddle?next=${here}`}>
          Take your paddle
        </Link>
      </div>
    )
  if (side?.barred) return <p>{side.barred}</p>
  if (isVoided) return <p>Your bids on this lot were voided. Write to us if that is wrong.</p>
  return (
    <>
      {side === null && (
        <p>
          {!isAsked && `From ${least}; you pay one step over the next bidder. `}
          To bid, sign in with an email address.
        </p>
      )}
      {alias && side && <YourSide {...{ frame, side, alias, isOutbidSaid, isShown, isRaising }} onShow={show} />}
      {side?.isInEitherOr ? (
        <p>
          This lot is in your either-or.{' '}
          <Link prefetch={false} href="/me/either-or">
            Change its maximum there
          </Link>
          .
        </p>
      ) : side === null && !isAsked ? (
        <button type="button" className="button needs-script" onClick={() => setAsked(true)}>
          Choose an amount
        </button>
      ) : (
        <Suspense>
          <BidForm
            highMinor={page.highMinor}
            isFolded={alias !== null && frame.leaderAlias === alias && !isShown && !isRaising}
            onTaken={() => {
              setShown(false)
              setRaising(false)
            }}
            frame={frame}
            ladder={ladder}
            side={side}
            alias={alias}
            countryName={countryName}
            onAlias={onAlias}
            onRefused={onRefused}
            draft={draft}
            onDraft={setDraft}
            openings={openings}
          />
        </Suspense>
      )}
      {side && !side.isInEitherOr && alias === null && (
        <p className="small">
          Would another lot do just as well?{' '}
          <Link prefetch={false} href={`/me/either-or?lot=${frame.number}`}>
            Bid on either this one or the other
          </Link>
        </p>
      )}
      {side && (
        <Suspense>
          <SideWords lot={frame.number} side={side} hasBid={alias !== null} />
        </Suspense>
      )}
      <noscript>
        <p>Bidding needs a browser that runs scripts. Everything else on this page works without.</p>
      </noscript>
    </>
  )
}
