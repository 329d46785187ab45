'use client'

import Link from 'next/link'
import { useState } from 'react'
import { useLive } from '#app/_trpc/use-live.ts'
import { Crumbs } from '#app/_ui/crumbs.tsx'
import { Notice } from '#app/_ui/notice.tsx'
import { When } from '#app/_ui/when.tsx'
import type { SearchView } from '#bench/faults/fault.contract'
import { sharedWords } from '#bench/faults/shared.rules'
import type { BringupView } from '#floor/bringup/bringup.contract'
import { HandSheet } from '../hand-sheet'
import { ReworkSheet } from '../rework-sheet'
import type { Choices, Instruments } from '../types'
import { useInHand } from '../use-in-hand'
import { useChoices, useUnit } from '../use-unit'
import { CloseForm } from './close-form'
import { EarlierFaults, Evidence } from './evidence'
import styles from './fault.module.css'
import { InsideBlock } from './inside-block'
import { LookSheet } from './look-sheet'
import { Looks } from './looks'
import { OpenForm } from './open-form'
import { SlipForm } from './slip-form'
import { Suspects } from './suspects'

export interface FaultSearchProps {
  initialSearch: SearchView
  initialView: BringupView
  instruments: Instruments
  choices: Choices
  works: boolean
  isMaker: boolean
  zone: string
}

/** One fault from its symptom to its cause: what is suspected, the check to make now, what that would tell. */
export function FaultSearch({ initialSearch, initialView, instruments, choices: inHand, works, isMaker, zone }: FaultSearchProps) {
  const search = useLive<SearchView>(`search:${initialSearch.tag}`, initialSearch)
  const { view, take, again } = useUnit(initialView)
  const choices = useChoices(view, inHand, works)
  const hand = useInHand(search.tag)
  const [chosen, setChosen] = useState<string | null>(null)
  const { tag, open, says, shared, faults } = search
  const look = search.looks.find(({ check, is }) => check === chosen && is === 'tells') ?? search.looks.find(({ is }) => is === 'tells')
  const canEnter = works && hand.seen !== null
  return (
    <div className="page stack">
      <Crumbs trail={[{ label: tag, href: `/bench/units/${tag}` }]} />
      <h1>
        Where to look next <span className="code quiet">{tag}</span>
      </h1>
      {open ? (
        <Notice tone={faults === 'one' && !search.passesNow ? 'bad' : 'doubt'} title={search.title} live="status">
          {faults !== 'one' && <p className={styles.title}>{TITLES[faults]}.</p>}
          {says.map((words) => (
            <p key={words}>{words}</p>
          ))}
          {search.mayBeSlip && works && <SlipForm tag={tag} onDone={again} />}
          {open.symptom !== search.title && <p className="small">Opened by: {open.symptom}</p>}
          {shared.length > 0 && (
            <p>
              {shared.map(sharedWords).join('. ')}. <Link href={`/bench/runs/${search.runPrefix}`}>Look for what they have in common</Link>
            </p>
          )}
          <p className="small">
            Open since <When at={open.openedAt} zone={zone} />, by {open.by}. Anything powered keeps its cautions while you search.
          </p>
        </Notice>
      ) : (
        <Notice tone="ok" title={`No fault of ${tag} is open.`}>
          <p>A failed check opens one automatically.</p>
        </Notice>
      )}
      {search.setAside !== null && (
        <Notice tone="bad" title="Set aside">
          <p>{search.setAside}. Nothing is checked on it until it is put back to work.</p>
        </Notice>
      )}
      {works && hand.seen === null && <HandSheet tag={tag} take={hand.take} />}
      {open ? (
        <div className={styles.columns}>
          <div className={`stack ${styles.look}`}>
            {canEnter && (
              <LookSheet
                view={view}
                look={look}
                inside={search.inside}
                seen={hand.seen ?? ''}
                instruments={instruments}
                take={take}
                forget={() => setChosen(null)}
              />
            )}
            <Looks looks={search.looks} at={look?.check ?? null} choose={canEnter ? setChosen : null} hasFigures={search.hasFigures} />
          </div>
          <div className={`stack ${styles.see}`}>
            <Suspects search={search} isMaker={isMaker} />
            <InsideBlock search={search} works={works} zone={zone} />
            <Evidence seen={search.seen} />
          </div>
          <div className={`stack ${styles.mend}`}>
            {canEnter && <ReworkSheet view={view} choices={choices} seen={hand.seen ?? ''} failed={open.check} folded again={again} />}
            {works && <CloseForm key={`${open.id} ${search.change?.at ?? ''}`} search={search} />}
            <EarlierFaults earlier={search.earlier} zone={zone} />
          </div>
        </div>
      ) : (
        <>
          {works && <OpenForm tag={tag} />}
          <EarlierFaults earlier={search.earlier} zone={zone} />
        </>
      )}
    </div>
  )
}

const TITLES = {
  'two likelier': 'Two faults are likelier than one',
  two: 'Two faults at once',
  more: 'What was seen does not fit together',
}
