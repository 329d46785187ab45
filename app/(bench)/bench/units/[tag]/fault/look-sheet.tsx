'use client'

import { useEffect, useRef, useState } from 'react'
import { Notice } from '#app/_ui/notice.tsx'
import type { Look, SearchView } from '#bench/faults/fault.contract'
import type { BringupView } from '#floor/bringup/bringup.contract'
import { CheckHead } from '../check-head'
import { type Kept, KeptReading } from '../kept-reading'
import { ReadingForm } from '../reading-form'
import type { Instruments } from '../types'
import { useAtHand } from '../use-at-hand'
import styles from './fault.module.css'

export interface LookSheetProps {
  view: BringupView
  look: Look | undefined
  /** What to look at inside the most suspected block. */
  inside: SearchView['inside']
  seen: string
  instruments: Instruments
  take(view: BringupView): void
  forget(): void
}

/** The check that tells most in the least time, or the one chosen below: take it here, and the suspicion moves. */
export function LookSheet({ view, look, inside, seen, instruments, take, forget }: LookSheetProps) {
  const [kept, setKept] = useState<Kept | null>(null)
  const hand = useAtHand(view, look ? { key: look.check, corrects: false } : null)
  const heading = useRef<HTMLHeadingElement>(null)
  const key = look?.check
  const first = useRef(key)
  useEffect(() => {
    if (key !== undefined && key !== first.current) heading.current?.scrollIntoView({ block: 'nearest' })
    first.current = key
  }, [key])
  const check = look && hand.check
  return (
    <section className="sheet act stack" aria-labelledby="look-at-hand">
      <KeptReading kept={kept} />
      {look && check ? (
        <>
          <CheckHead check={check} id="look-at-hand" heading={heading}>
            {check.title}
          </CheckHead>
          {look.opens !== null && <p>It has to come first for safety, and opens the way to {look.opens}.</p>}
          {check.caution !== '' && (
            <Notice tone="doubt">
              <p>{check.caution}</p>
            </Notice>
          )}
          {look.isRepeat && (
            <p className="small quiet">
              It was taken before. A second reading shows a fault that comes and goes, or a first one that slipped.
            </p>
          )}
          {look.isMarked && (
            <p className="small">
              It is out of order: the reading is marked <b>taken while searching</b> and is not part of the certificate.
            </p>
          )}
          <ReadingForm
            key={check.key}
            view={view}
            check={check}
            corrects={false}
            searches
            seen={seen}
            instruments={instruments}
            hand={hand}
            onKept={(one, sent) => {
              take(one.view)
              setKept(one)
              hand.done(sent)
              forget()
            }}
          />
        </>
      ) : (
        <>
          <h2 id="look-at-hand">Look into the block itself: {inside.block}</h2>
          <p>No check you can make now tells you more. Look with a magnifier, the likeliest first:</p>
          <ol className={styles.inside}>
            {inside.pieces.map(({ designator, part, why }) => (
              <li key={designator}>
                <span className="code">{designator}</span> {part}
                <span className="under">{why}</span>
              </li>
            ))}
          </ol>
          {inside.pieces.length === 0 && <p>Nothing is fitted there: its wires, the board under it, its settings.</p>}
        </>
      )}
    </section>
  )
}
