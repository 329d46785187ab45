'use client'

import Link from 'next/link'
import { useEffect, useRef, useState } from 'react'
import { useLive, useLiveness } from '#app/_trpc/use-live.ts'
import { Countdown } from '#app/_ui/countdown.tsx'
import { Dayline } from '#app/_ui/dayline.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { sayWhen } from '#app/_ui/when.rules.ts'
import { When } from '#app/_ui/when.tsx'
import { countdownState, sayBids, sayElsewhere, sayFollowing, sayReserve, sayStanding } from '#app/(public)/_lots/say-lot.rules.ts'
import type { LotPage } from '#floor/lot-page/lot-page.service'
import { showMoney } from '#kernel/money'
import type { LotFrame, MySide } from '#sale/bidding/bidding.contract'
import type { Ladder } from '#sale/price/ladder.rules'
import { lateBidAdds, lateWindowWords } from '#sale/price/late-bid.rules'
import { type BidPage, BidPanel } from './bid-panel'
import styles from './lot.module.css'
import { PictureDelayPart } from './picture-delay'
import { Reminders } from './reminders'

interface LotSaleProps {
  initial: LotFrame
  page: BidPage & Pick<LotPage, 'stream' | 'closings'>
  ladder: Ladder
  /** What the reader has said on this lot; null for who is not signed in. */
  side: MySide | null
  countryName: string
}

/** Price, clock on the day's line, and the bid: the part of the page that moves. */
export function LotSale({ initial, page, ladder, side, countryName }: LotSaleProps) {
  const frame = useLive<LotFrame>(`lot:${initial.number}`, initial)
  const { offset } = useLiveness()
  const [ownAlias, setOwnAlias] = useState(side?.alias ?? null)
  const alert = useAlert(frame, ownAlias, page.zone)
  const at = frame.endedAt ?? frame.closesAt
  const others = page.closings.filter(({ number }) => number !== frame.number)
  const following = others.filter((one) => at !== null && one.at > at && one.state !== 'withdrawn').map(({ number }) => number)
  const isElsewhere = page.elsewhereUrl !== null
  const isToCome = frame.state === 'ready' || frame.state === 'open' || frame.state === 'held'
  const reserve = sayReserve(frame.reserve)
  const amount = frame.hammerMinor ?? frame.standingMinor ?? frame.openingMinor
  return (
    <section className={styles.sale} aria-label="The sale">
      <div className={styles.figures}>
        <p className={styles.price}>{amount === null ? 'No price yet' : showMoney(amount, frame.currency, { short: true })}</p>
        <Countdown
          closesAt={at}
          serverNow={frame.serverNow}
          offset={offset}
          zone={page.zone}
          state={countdownState(frame.state)}
          lateBid={frame.lateBid}
          bare
        />
      </div>
      <Dayline
        opensAt={page.stream.opensAt}
        closesAt={page.stream.closesAt}
        now={frame.serverNow}
        zone={page.zone}
        marks={[
          ...others.map((one) => ({
            at: one.at,
            label: `Lot ${one.number}`,
            kind: one.at <= frame.serverNow ? ('past' as const) : ('coming' as const),
          })),
          ...(at === null ? [] : [{ at, label: `Lot ${frame.number}`, kind: 'this' as const }]),
        ]}
      />
      <p className="small quiet">
        {at !== null && (
          <>
            {countdownState(frame.state) === 'ended' ? 'Closed ' : 'Closes '}
            <When at={at} zone={page.zone} />.{' '}
          </>
        )}
        {!isElsewhere &&
          countdownState(frame.state) === 'running' &&
          `A bid in the last ${lateWindowWords(frame.lateBid.windowMs)} adds ${lateBidAdds(frame.lateBid)}. `}
        {sayFollowing(following)}
      </p>
      {isToCome && !isElsewhere && <PictureDelayPart zone={page.zone} serverNow={frame.serverNow} />}
      {alert && (
        <Notice tone={alert.tone} title={alert.title} live="alert">
          {alert.words}
        </Notice>
      )}
      <div className="sheet act stack">
        <div>
          <p className={styles.standing}>{isElsewhere ? sayElsewhere(frame) : sayStanding(frame)}</p>
          {!isElsewhere && (
            <p className="small quiet">
              {frame.state === 'ready' ? 'Bidding has not begun.' : [reserve, sayBids(frame.bids)].filter(Boolean).join('; ')}
              {frame.ledgerSize > 0 && (
                <>
                  ,{' '}
                  <Link prefetch={false} href={`/lots/${frame.number}/history`}>
                    checkable by anyone
                  </Link>
                </>
              )}
            </p>
          )}
        </div>
        {frame.corrections.map(({ at: when, words }) => (
          <Notice key={`${when} ${words}`} tone="doubt" title="The description was corrected" live="status">
            {words} <span className="quiet">({sayWhen(when, page.zone, 'both')})</span>
          </Notice>
        ))}
        <BidPanel frame={frame} page={page} ladder={ladder} side={side} alias={ownAlias} countryName={countryName} onAlias={setOwnAlias} />
      </div>
      {isToCome && frame.closesAt !== null && (
        <Reminders lot={frame.number} isSignedIn={side !== null} isReminded={side?.isReminded ?? false} />
      )}
    </section>
  )
}

interface Alert {
  tone: 'bad' | 'doubt'
  title: string
  words: string
}

/** Outbid and extended are said at once; everything else on this page stands where it can be read. */
function useAlert(frame: LotFrame, alias: string | null, zone: string): Alert | null {
  const before = useRef(frame)
  const [alert, setAlert] = useState<Alert | null>(null)
  useEffect(() => {
    const was = before.current
    before.current = frame
    const led = alias !== null && was.leaderAlias === alias
    const leads = alias !== null && frame.leaderAlias === alias
    if (led && !leads && frame.state === 'open' && frame.leaderAlias !== null && frame.standingMinor !== null) {
      const price = showMoney(frame.standingMinor, frame.currency, { short: true })
      setAlert({ tone: 'bad', title: 'You were outbid', words: `Alias ${frame.leaderAlias} leads at ${price}.` })
    } else if (frame.extendedTimes > was.extendedTimes && frame.closesAt !== null) {
      setAlert({ tone: 'doubt', title: 'Extended', words: `It now closes at ${sayWhen(frame.closesAt, zone, 'time')} on the stream.` })
    } else if (leads && !led) setAlert(null)
  }, [frame, alias, zone])
  return alert
}
