'use client'

import Link from 'next/link'
import { useState } from 'react'
import { Notice } from '#app/_ui/notice.tsx'
import type { Reached } from '#app/_ui/strip.rules.ts'
import { Strip } from '#app/_ui/strip.tsx'
import { Tag } from '#app/_ui/tag.tsx'
import type { BringupView } from '#floor/bringup/bringup.contract'
import { Checklist } from './checklist'
import { EvidenceSheet } from './evidence-sheet'
import { FaultNotice } from './fault-notice'
import { FitSheet } from './fit-sheet'
import { HandSheet } from './hand-sheet'
import { MistypedFitting } from './mistyped-fitting'
import { NextSheet } from './next-sheet'
import { RecordSheet } from './record-sheet'
import { ReworkSheet } from './rework-sheet'
import type { Choices, Instruments } from './types'
import styles from './unit-bench.module.css'
import type { Chosen } from './use-at-hand'
import { useInHand } from './use-in-hand'
import { useChoices, useUnit } from './use-unit'
import { WholeUnit } from './whole-unit'

export interface UnitBenchProps {
  initial: BringupView
  instruments: Instruments
  choices: Choices
  person: { name: string; isMaker: boolean; works: boolean }
  zone: string
}

/** One machine on the bench: the check at hand, what goes in, what was changed, and all that happened. */
export function UnitBench({ initial, instruments, choices: inHand, person, zone }: UnitBenchProps) {
  const { view, take, again } = useUnit(initial)
  const choices = useChoices(view, inHand, person.works)
  const hand = useInHand(view.tag)
  const [chosen, setChosen] = useState<Chosen | null>(null)
  const failed = view.checks.find(({ reading }) => reading?.verdict.startsWith('fail'))
  return (
    <div className="page stack">
      <div className={styles.head}>
        <Tag code={view.tag}>
          <p>
            <Link href={`/bench/designs/${view.design.id}`}>{view.design.name}</Link>, revision {view.design.revision}
          </p>
        </Tag>
        <div className={styles.strip}>
          <Strip reached={view.reached as Reached} name={view.tag} />
        </div>
      </div>
      <h1 className="visually-hidden">{view.tag} on the bench</h1>
      {view.setAside !== null && (
        <Notice tone="bad" title="Set aside">
          <p>{view.setAside}. Nothing is checked on it until it is put back to work.</p>
        </Notice>
      )}
      <FaultNotice view={view} works={person.works} again={again} />
      {view.design.cautions !== '' && (
        <Notice tone="doubt">
          <p>
            <b>Before you touch it.</b> {view.design.cautions} Where mains, cells or charged parts are in play, your local rules come first.
          </p>
        </Notice>
      )}
      {person.works && hand.seen === null && <HandSheet tag={view.tag} take={hand.take} />}
      <div className={styles.columns}>
        <div className="stack">
          {person.works && hand.seen !== null && (
            <NextSheet
              view={view}
              chosen={chosen}
              forget={(key) => setChosen((now) => (key === undefined || now?.key === key ? null : now))}
              take={take}
              seen={hand.seen}
              putDown={hand.putDown}
              instruments={instruments}
              person={person}
              zone={zone}
            />
          )}
          {person.works && hand.seen !== null && <FitSheet view={view} choices={choices} seen={hand.seen} again={again} />}
          <Checklist view={view} choose={person.works && hand.seen !== null ? setChosen : null} />
        </div>
        <div className="stack">
          {person.works && hand.seen !== null && (
            <>
              <ReworkSheet view={view} choices={choices} seen={hand.seen} failed={failed?.key ?? null} again={again} />
              <MistypedFitting view={view} choices={choices} seen={hand.seen} again={again} />
            </>
          )}
          <WholeUnit view={view} person={person} again={again} />
          <EvidenceSheet view={view} person={person} zone={zone} />
          <RecordSheet view={view} zone={zone} />
        </div>
      </div>
    </div>
  )
}
