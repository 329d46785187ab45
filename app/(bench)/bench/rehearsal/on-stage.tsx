'use client'

import Link from 'next/link'
import { useState } from 'react'
import { PACES, type RehearsalView, TROUBLES, type Trouble } from '#air/rehearsal/rehearsal.contract'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { classes } from '#app/_ui/classes.ts'
import { CheckField } from '#app/_ui/forms/choice-fields.tsx'
import { showClock } from '#kernel/wall-clock'
import styles from './rehearsal.module.css'

type OnIt = Extract<RehearsalView, { is: 'rehearsal' }>

/** Within the rehearsal: how fast it runs, what goes wrong, and what has happened. */
export function OnStage({ view, look }: { view: OnIt; look(): void }) {
  const pace = useCommand(async (faster: number) => {
    await api.rehearsal.pace.mutate({ pace: faster })
    return true
  })
  return (
    <>
      <section className="sheet stack" aria-labelledby="speed">
        <h2 id="speed">
          It is <span className="num">{showClock(view.now, view.zone)}</span>, at {view.pace} times the speed
        </h2>
        <div className="row">
          {PACES.map((faster) => (
            <button
              key={faster}
              type="button"
              className={classes('button-line', styles.pace)}
              aria-pressed={faster === view.pace}
              onClick={() => void pace.run(faster).then(look)}
            >
              {faster}×
            </button>
          ))}
          <Link href="/air/host">Host’s screen</Link>
          <Link href="/air/overlays">Overlays</Link>
          <Link href="/programme">Programme</Link>
        </div>
      </section>
      <TroubleSheet look={look} />
      <section className="sheet stack" aria-labelledby="happened">
        <h2 id="happened">What has happened</h2>
        <ol className={styles.news}>
          {[...view.news].reverse().map(({ at, words }) => (
            <li key={`${at} ${words}`}>
              <span className="num">{showClock(at, view.zone)}</span> {words}
            </li>
          ))}
        </ol>
      </section>
    </>
  )
}

function TroubleSheet({ look }: { look(): void }) {
  const [isForHost, setForHost] = useState(false)
  const cause = useCommand(async (trouble: Trouble) => {
    await api.rehearsal.cause.mutate({ trouble, answer: isForHost ? 'host' : 'itself' })
    return true
  })
  return (
    <section className="sheet act stack" aria-labelledby="trouble">
      <h2 id="trouble">Make something go wrong</h2>
      <CheckField
        name="forHost"
        label="Leave it to the host"
        hint="A late guest or a lost stream is only announced, at the top of every page; the host’s keys deal with it. Otherwise the rehearsal does."
        onCheck={setForHost}
      />
      {cause.refusal && <p role="alert">{cause.refusal.words}</p>}
      <div className="row" aria-busy={cause.pending}>
        {(Object.keys(TROUBLES) as Trouble[]).map((trouble) => (
          <button key={trouble} type="button" className="button-line" onClick={() => void cause.run(trouble).then(look)}>
            {TROUBLES[trouble]}
          </button>
        ))}
      </div>
    </section>
  )
}
