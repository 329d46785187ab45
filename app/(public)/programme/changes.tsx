'use client'

import Link from 'next/link'
import { useEffect, useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useLive } from '#app/_trpc/use-live.ts'
import { sayWhen } from '#app/_ui/when.rules.ts'
import { When } from '#app/_ui/when.tsx'
import { showMoney } from '#kernel/money'
import { isSameTime, laterWithinMinute, markOfDay, sayShift } from '#sale/programme/change-words.rules'
import type { DayChange, DayChanges } from '#sale/programme/changes.contract'
import type { Programme } from '#sale/programme/programme.contract'
import styles from './programme.module.css'

const AT_FIRST = 6

/** What changed in the announced programme, when and why, and what came of each lot: the newest first. */
export function Changes({ initial, programme }: { initial: DayChanges; programme: Programme }) {
  const [day, setDay] = useState(initial)
  const mark = markOfDay(useLive<Programme>('programme', programme))
  const [seen, setSeen] = useState(mark)
  useEffect(() => {
    if (mark === seen) return
    let isCurrent = true
    api.programme.changes.query().then(
      (fresh) => {
        if (!isCurrent) return
        if (fresh) setDay(fresh)
        setSeen(mark)
      },
      // Not reached: what stands here was true, and the next frame asks again.
      () => {},
    )
    return () => {
      isCurrent = false
    }
  }, [mark, seen])
  const told = day.changes
  if (told.length === 0) return null
  return (
    <section className="stack close" id="changes" aria-labelledby="changes-title">
      <h2 id="changes-title">Results and changes</h2>
      <ul className={styles.changes}>
        {told.slice(0, AT_FIRST).map((change) => (
          <Change key={change.id} change={change} day={day} />
        ))}
      </ul>
      {told.length > AT_FIRST && (
        <details>
          <summary>{told.length - AT_FIRST} more</summary>
          <ul className={styles.changes}>
            {told.slice(AT_FIRST).map((change) => (
              <Change key={change.id} change={change} day={day} />
            ))}
          </ul>
        </details>
      )}
      <p className="small">
        <a className="alone" href="/programme.atom">
          Follow these as a feed (Atom)
        </a>
      </p>
    </section>
  )
}

function Change({ change, day }: { change: DayChange; day: DayChanges }) {
  const { lot, why, at } = change
  return (
    <li>
      <p>
        {lot === null ? <b>{isOfAll(change) ? 'All clocks' : change.title}</b> : <Link href={`/lots/${lot}`}>{change.title}</Link>}{' '}
        <What change={change} day={day} />
      </p>
      <p className="small quiet">
        {why !== '' && `Why: ${why.replace(/[.!?]?$/, '.')} `}
        Announced <When at={at} zone={day.zone} />
      </p>
    </li>
  )
}

const isOfAll = ({ kind, lot }: DayChange): boolean => lot === null && (kind === 'held' || kind === 'resumed')

function What({ change: { kind, lot, from, to, shiftMs, hammerMinor }, day: { zone, currency } }: { change: DayChange; day: DayChanges }) {
  const moved = from !== null && to !== null && (
    <>
      {' '}
      from <When at={from} zone={zone} brief /> to{' '}
      <When at={to} zone={zone} show={sayWhen(from, zone, 'day') === sayWhen(to, zone, 'day') ? 'time' : 'both'} />
    </>
  )
  const inSeconds = laterWithinMinute(from, to, zone)
  switch (kind) {
    case 'announced':
      return 'was announced.'
    case 'added':
      return (
        <>
          was added
          {to !== null && (
            <>
              : <When at={to} zone={zone} />
            </>
          )}
          .
        </>
      )
    case 'moved':
      return <>moves{inSeconds ? ` ${inSeconds}` : moved}.</>
    case 'ends':
      if (from === null || to === null) return 'ends at another time.'
      return (
        <>
          ends {to > from ? 'later' : 'sooner'}: at <When at={to} zone={zone} show="time" /> instead of{' '}
          <When at={from} zone={zone} show="time" />.
        </>
      )
    case 'extended':
      return <>closes {inSeconds ?? <>later,{moved}</>}.</>
    case 'removed':
      return (
        <>
          will not take place
          {from !== null && (
            <>
              ; it was planned for <When at={from} zone={zone} />
            </>
          )}
          .
        </>
      )
    case 'held':
      return lot === null ? 'are stopped.' : 'is on hold: its clock is stopped.'
    case 'resumed':
      if (lot !== null) return <>is running again and closes {isSameTime(from, to) ? 'at its time' : (inSeconds ?? <>later,{moved}</>)}.</>
      return <>are running again{shiftMs ? `; closings come later by up to ${sayShift(shiftMs)}` : ''}.</>
    case 'withdrawn':
      return 'was withdrawn; nobody wins it.'
    case 'sold':
      return <>was sold{hammerMinor !== null && ` for ${showMoney(hammerMinor, currency, { short: true })}`}.</>
    case 'unsold':
      return 'was not sold.'
    case 'fell through':
      return 'was sold, and the sale fell through.'
    case 'stands':
      return <>is sold{hammerMinor !== null && ` for ${showMoney(hammerMinor, currency, { short: true })}`} in the end.</>
  }
}
