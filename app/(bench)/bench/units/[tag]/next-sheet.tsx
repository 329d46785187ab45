'use client'

import { useEffect, useRef, useState } from 'react'
import { Notice } from '#app/_ui/notice.tsx'
import { TextButton } from '#app/_ui/text-button.tsx'
import type { BringupView } from '#floor/bringup/bringup.contract'
import { CheckHead } from './check-head'
import { type Kept, KeptReading } from './kept-reading'
import { ReadingForm } from './reading-form'
import { ReleaseForm } from './release-form'
import { SoakSheet } from './soak-sheet'
import type { Instruments } from './types'
import { type Chosen, useAtHand } from './use-at-hand'

export interface NextSheetProps {
  view: BringupView
  /** null for the next permitted one. */
  chosen: Chosen | null
  /** Goes back to the next permitted one; with a key, only if that one is chosen. */
  forget(key?: string): void
  take(view: BringupView): void
  seen: string
  putDown(): void
  instruments: Instruments
  person: { name: string }
  zone: string
}

/** The check at hand, large: what to do, where to put the figure, and what the last one came to. */
export function NextSheet({ view, chosen, forget, take, seen, putDown, instruments, person, zone }: NextSheetProps) {
  const [kept, setKept] = useState<Kept | null>(null)
  const hand = useAtHand(view, chosen)
  const { check, corrects, isRelease } = hand
  const sheet = useRef<HTMLElement>(null)
  const heading = useRef<HTMLHeadingElement>(null)
  // The list is far below on a phone: what was chosen there comes into view, and the focus with it.
  useEffect(() => {
    if (chosen === null) return
    sheet.current?.scrollIntoView({ block: 'nearest' })
    if (!sheet.current?.contains(document.activeElement)) heading.current?.focus({ preventScroll: true })
  }, [chosen])
  // The name that lets a hold point go is not to be given by an Enter too many: the focus waits at the heading.
  const released = isRelease ? check?.key : undefined
  useEffect(() => {
    if (released !== undefined) heading.current?.focus({ preventScroll: true })
  }, [released])
  return (
    <section ref={sheet} className="sheet act stack" aria-labelledby="at-hand">
      <KeptReading kept={kept}>
        {kept?.cannotDecide && (
          <span className="small"> The doubt is as wide as the limits: this instrument cannot decide this check.</span>
        )}
      </KeptReading>
      {check ? (
        <>
          <CheckHead check={check} id="at-hand" heading={heading} saysHold>
            {isRelease ? `Release ${check.key}: ${check.title}` : corrects ? `Correct ${check.key}: ${check.title}` : check.title}
          </CheckHead>
          {check.caution !== '' && (
            <Notice tone="doubt">
              <p>{check.caution}</p>
            </Notice>
          )}
          {isRelease ? (
            <ReleaseForm key={check.key} view={view} check={check} seen={seen} name={person.name} onReleased={take} />
          ) : (
            <>
              {check.kind === 'soak' && !corrects && <SoakSheet view={view} check={check} seen={seen} zone={zone} take={take} />}
              <ReadingForm
                key={`${check.key} ${corrects}`}
                view={view}
                check={check}
                corrects={corrects}
                seen={seen}
                instruments={instruments}
                hand={hand}
                onKept={(one, sent) => {
                  take(one.view)
                  setKept(one)
                  hand.done(sent)
                  forget(one.check)
                }}
              />
            </>
          )}
        </>
      ) : (
        <>
          <h2 id="at-hand">{view.missing.length === 0 ? 'Every check has passed' : 'Nothing can be taken now'}</h2>
          <p>{nothingWords(view)}</p>
        </>
      )}
      <p className="small quiet">
        Working on: <span className="code">{view.tag}</span>. <TextButton press={putDown}>Put it down</TextButton>
        {chosen !== null && (
          <>
            {' '}
            <TextButton press={forget}>Back to the next check</TextButton>
          </>
        )}
      </p>
    </section>
  )
}

function nothingWords(view: BringupView): string {
  if (view.missing.length === 0) return view.certificate ? 'It is certified.' : 'It can be certified.'
  if (view.setAside !== null) return 'It is set aside.'
  const waiting = view.checks.find(({ permission }) => permission.may === 'wait')
  return waiting ? `${waiting.key}: ${waiting.permission.why}` : (view.missing[0] ?? '')
}
