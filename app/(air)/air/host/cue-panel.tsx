'use client'

import { Fragment, useEffect, useState } from 'react'
import type { CueSheet } from '#air/screens/air.contract'
import { type Cue, cueFromAfar } from '#air/screens/cues.rules'
import { type AirLot, resultWords } from '#air/screens/host.rules'
import { api } from '#app/_trpc/client.ts'
import { useLive } from '#app/_trpc/use-live.ts'
import { clockLeft } from '#app/_ui/countdown.rules.ts'
import type { Instant } from '#kernel/instant'
import { type Currency, showMoney } from '#kernel/money'
import { lateBidRule } from '#sale/price/late-bid.rules'
import { creditLine } from '#stock/donors/credit.rules'
import styles from './host.module.css'

export interface CuePanelProps {
  lot: AirLot
  cue: Cue
  now: Instant
  currency: Currency
  /** Across a hall: what to do in as few words as can be. */
  isAfar: boolean
}

/** What to do now, what comes after, and the words for it. */
export function CuePanel({ lot, cue, now, currency, isAfar }: CuePanelProps) {
  const sheet = useCueSheet(lot.number)
  return (
    <section className={styles.cue} data-cue={cue.key} aria-label="Cue">
      <p className={styles.does} role="status">
        {isAfar ? cueFromAfar(cue) : cue.words}
      </p>
      <p className={styles.then}>{cue.next && `In ${clockLeft(cue.next.at - now)}: ${cue.next.words}.`}</p>
      <div className={styles.words}>{sheet && <Words sheet={sheet} cue={cue} lot={lot} currency={currency} />}</div>
      {sheet && cue.key !== 'result' && (
        <div className={styles.thanks}>
          <p className={styles.label}>at the close</p>
          <Names sheet={sheet} />
        </div>
      )}
    </section>
  )
}

/** Fetched for each lot, and again whenever somebody gives or withdraws consent. */
function useCueSheet(lot: number): CueSheet | null {
  const [sheet, setSheet] = useState<CueSheet | null>(null)
  const { seq } = useLive<{ seq?: number }>('credits', {})
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new frame of the credits is the reason to ask again
  useEffect(() => {
    let isCurrent = true
    api.air.cueSheet
      .query({ lot })
      .then((found) => isCurrent && setSheet(found))
      // Without the house there is nothing to read; the feed's age says so at the head of the screen.
      .catch(() => isCurrent && setSheet(null))
    return () => {
      isCurrent = false
    }
  }, [lot, seq])
  return sheet?.lot === lot ? sheet : null
}

function Words({ sheet, cue, lot, currency }: { sheet: CueSheet; cue: Cue; lot: AirLot; currency: Currency }) {
  if (cue.key === 'record') {
    return sheet.record.length === 0 ? (
      <p>It has no certificate to read from.</p>
    ) : (
      sheet.record.map((line) => (
        // Across a room the lines run on in one another: what parts them there is the space.
        <Fragment key={line}>
          <p>{line}</p>{' '}
        </Fragment>
      ))
    )
  }
  if (cue.key === 'result') {
    return (
      <>
        <p>
          <b>{resultWords(lot, (minor) => showMoney(minor, currency, { short: true }))}.</b>
        </p>{' '}
        <Names sheet={sheet} />
      </>
    )
  }
  if (cue.key === 'last-call') {
    return (
      <p>
        {lot.title}. {lateBidRule(lot.lateBid)}
      </p>
    )
  }
  return <p>{opening(sheet.story) || `${lot.title}, ${lot.unit}.`}</p>
}

function Names({ sheet }: { sheet: CueSheet }) {
  const spoken = sheet.names.map(({ name, sayIt }) => ({ donorId: name, name: sayIt === '' ? name : `${name} (say ${sayIt})`, sayIt }))
  const line = creditLine({ names: spoken, friends: sheet.friends, unnamed: 0 })
  return <p className={line.length > 140 ? styles.many : undefined}>{line === '' ? 'No donor is named on stream.' : `Thank ${line}.`}</p>
}

/** The first sentences of a story, as many as can be read across a room. */
function opening(story: string): string {
  const most = 220
  if (story.length <= most) return story
  const cut = story.slice(0, most)
  const stop = Math.max(cut.lastIndexOf('. '), cut.lastIndexOf('! '), cut.lastIndexOf('? '))
  return stop > 80 ? cut.slice(0, stop + 1) : `${cut.slice(0, cut.lastIndexOf(' '))} …`
}
