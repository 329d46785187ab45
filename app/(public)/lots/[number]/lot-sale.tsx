'use client'

import Link from 'next/link'
import { useEffect, useRef, useState } from 'react'
import { useLive, useLiveness } from '#app/_trpc/use-live.ts'
import { AsOf } from '#app/_ui/as-of.tsx'
import { classes } from '#app/_ui/classes.ts'
import { Countdown } from '#app/_ui/countdown.tsx'
import { Dayline } from '#app/_ui/dayline.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { Spoken } from '#app/_ui/spoken.tsx'
import { StreamPart, type StreamPartProps } from '#app/_ui/stream-part.tsx'
import { Call } from '#app/_ui/told/call.tsx'
import { useHouseNow } from '#app/_ui/use-house-now.ts'
import { sayWhen } from '#app/_ui/when.rules.ts'
import { When } from '#app/_ui/when.tsx'
import {
  countdownState,
  sayBids,
  sayElsewhere,
  sayFollowing,
  sayLateBid,
  sayReserve,
  sayStanding,
} from '#app/(public)/_lots/say-lot.rules.ts'
import type { LotPage } from '#floor/lot-page/lot-page.service'
import type { Instant } from '#kernel/instant'
import { showMoney } from '#kernel/money'
import type { MyPrice, PriceView } from '#money/fixed-price/offer-price.contract'
import type { LotFrame, MySide } from '#sale/bidding/bidding.contract'
import { sayClosing, sayFixedDay } from '#sale/fixed-price/fixed-price-words.rules'
import { correctionTitle } from '#sale/history/leaf-words.rules'
import type { Ladder } from '#sale/price/ladder.rules'
import { AFTERWARDS_WORDS, comesTo, fellThrough } from '#sale/price/result.rules'
import { type BidPage, BidPanel } from './bid-panel'
import { BidStrip } from './bid-strip'
import { FixedPricePart } from './fixed-price-part'
import styles from './lot.module.css'
import { type News, newsAfter, OUTBID, sayNews } from './news.rules'
import { PictureDelayPart } from './picture-delay'
import { Reminders } from './reminders'
import { useMeasuredHeight } from './use-measured-height'
import { useOwnSide } from './use-own-side'

interface LotSaleProps {
  initial: LotFrame
  page: BidPage & Pick<LotPage, 'stream' | 'closings'>
  ladder: Ladder
  /** What the reader has said on this lot; null for who is not signed in. */
  side: MySide | null
  countryName: string
  watch: StreamPartProps
  /** What it can be had for now, and for its reader. */
  price: PriceView | null
  myPrice: MyPrice | null
}

/** Price, clock on the day's line, and the bid: the part of the page that moves. */
export function LotSale({ initial, page, ladder, side: given, countryName, watch, price, myPrice }: LotSaleProps) {
  const frame = useLive<LotFrame>(`lot:${initial.number}`, initial)
  const { offset } = useLiveness()
  const { side, ask } = useOwnSide(frame, given, initial)
  const [ownAlias, setOwnAlias] = useState(given?.alias ?? null)
  const now = useHouseNow(frame.serverNow, frame.closesAt, offset)
  const news = useNews(frame, ownAlias, now, page.zone)
  const isOutbidSaid = news?.title === OUTBID
  const at = frame.endedAt ?? frame.closesAt
  const others = page.closings.filter(({ number }) => number !== frame.number)
  const following = others.filter((one) => at !== null && one.at > at && one.state !== 'withdrawn').map(({ number }) => number)
  const isElsewhere = page.elsewhereUrl !== null
  const isToCome = frame.state === 'ready' || frame.state === 'open' || frame.state === 'held'
  const reserve = sayReserve(frame.reserve)
  const fixed = frame.fixedPrice
  const amount = fixed?.priceMinor ?? (frame.hammerMinor === null ? null : comesTo(frame)) ?? frame.standingMinor ?? frame.openingMinor
  // Whoever signs in on this page may have bid here before, or bids on another one now.
  const knownAlias = side?.alias ?? null
  useEffect(() => {
    if (knownAlias !== null) setOwnAlias(knownAlias)
  }, [knownAlias])
  // How often the form was opened by the strip; null while it is closed there.
  const [openings, setOpenings] = useState<number | null>(null)
  const toggle = () => setOpenings((count) => (count === null ? 1 : null))
  useEffect(() => {
    if (openings === null) return
    const close = ({ key }: KeyboardEvent) => {
      if (key === 'Escape') setOpenings(null)
    }
    window.addEventListener('keydown', close)
    return () => window.removeEventListener('keydown', close)
  }, [openings])
  useEffect(() => {
    // Back from where a paddle is taken: the bid goes on.
    if (window.location.hash === '#bid') setOpenings(1)
  }, [])
  const sheet = useMeasuredHeight('--strip-height')
  const action = actionFor(frame, ownAlias, isElsewhere)
  return (
    <section className={styles.sale} aria-label="The sale">
      <div className={styles.figures}>
        <p className={styles.price}>
          {fellThrough(frame) ? 'Not sold' : amount === null ? 'No price yet' : showMoney(amount, frame.currency, { short: true })}
        </p>
        <Countdown
          closesAt={at}
          serverNow={frame.serverNow}
          offset={offset}
          zone={page.zone}
          state={countdownState(frame.state)}
          heldSince={frame.heldSince}
          lateBid={frame.lateBid}
          bare
        />
      </div>
      <Spoken words={isElsewhere ? sayElsewhere(frame) : sayStanding(frame)} />
      <AsOf at={initial.serverNow} zone={page.zone} path={`/lots/${frame.number}`} />
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
            {countdownState(frame.state) === 'ended' ? 'Closed ' : frame.state === 'held' ? 'Was to close ' : 'Closes '}
            <When at={at} zone={page.zone} />.{' '}
          </>
        )}
        {!isElsewhere && sayLateBid(frame, now)}
        {sayFollowing(following)}
      </p>
      {isToCome && <StreamPart {...watch} />}
      {isToCome && !isElsewhere && <PictureDelayPart zone={page.zone} serverNow={frame.serverNow} />}
      <div>
        <p className={styles.standing}>{isElsewhere ? sayElsewhere(frame) : sayStanding(frame)}</p>
        {fixed && (
          <p>
            {sayFixedDay(fixed, page.zone).replace(/^./, (first) => first.toUpperCase())}. {sayClosing(frame, frame.currency)}
          </p>
        )}
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
      {page.afterwards && <p>{AFTERWARDS_WORDS[page.afterwards]}</p>}
      {frame.corrections.map((correction) => (
        <Notice key={`${correction.at} ${correction.words}`} tone="doubt" title={correctionTitle(correction)} live="status">
          {correction.words} <span className="quiet">({sayWhen(correction.at, page.zone, 'both')})</span>
        </Notice>
      ))}
      <FixedPricePart frame={frame} price={price} mine={myPrice} isSignedIn={side !== null} />
      {fixed === null && (
        <div id="bid" ref={sheet} className={classes('sheet', 'act', styles.bid, openings !== null && styles.open)}>
          {news && (
            <Notice tone={news.title === 'Extended' ? 'doubt' : 'bad'} title={news.title} live="alert">
              {news.words}
            </Notice>
          )}
          <BidStrip
            frame={frame}
            alias={ownAlias}
            now={now}
            asOf={{ at: initial.serverNow, zone: page.zone }}
            action={action}
            isElsewhere={isElsewhere}
            isOutbidSaid={isOutbidSaid}
            isOpen={openings !== null}
            onToggle={toggle}
          />
          <div id="bid-form" className={`stack ${styles.form}`}>
            <BidPanel
              frame={frame}
              page={page}
              ladder={ladder}
              side={side}
              alias={ownAlias}
              isOutbidSaid={isOutbidSaid}
              countryName={countryName}
              onAlias={setOwnAlias}
              onRefused={ask}
              openings={openings ?? 0}
            />
          </div>
        </div>
      )}
      <Call frame={frame} alias={ownAlias} now={now} />
      {isToCome && frame.closesAt !== null && (
        <Reminders lot={frame.number} isSignedIn={side !== null} isReminded={side?.isReminded ?? false} />
      )}
    </section>
  )
}

/** What the strip's button says; null where its form would have nothing to say. */
function actionFor({ state, leaderAlias }: LotFrame, alias: string | null, isElsewhere: boolean): string | null {
  if (isElsewhere) return 'Where it is sold'
  if (state === 'open') return alias !== null && leaderAlias === alias ? 'Raise' : 'Bid'
  return state === 'held' || (state === 'sold' && alias !== null) ? 'More' : null
}

/** What has just happened, as long as it is true; outbid and extended are said at once, everything else stands where it can be read. */
function useNews(frame: LotFrame, alias: string | null, now: Instant, zone: string) {
  const before = useRef(frame)
  const [news, setNews] = useState<News | null>(null)
  useEffect(() => {
    const was = before.current
    before.current = frame
    if (was !== frame) setNews((known) => newsAfter(known, was, frame, alias))
  }, [frame, alias])
  return sayNews(news, frame, now, zone)
}
