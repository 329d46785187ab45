'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import type { Instant } from '#kernel/instant'
import { showClock } from '#kernel/wall-clock'
import { civilParts } from '#sale/programme/civil-time.rules'
import type { DayPlan, ProgrammeItem } from '#sale/programme/programme.contract'
import { objectTo } from '#sale/programme/programme.rules'
import { DayChart } from './day-chart'
import styles from './planner.module.css'

export interface DayLineProps {
  day: DayPlan
  now: Instant
  proposed: readonly { lot: number; at: Instant }[]
}

/** The line of the day on which closings can be moved. What a place would run into is said while the tag is over it. */
export function DayLine({ day, now, proposed }: DayLineProps) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.programme.move.mutate)
  const [held, setHeld] = useState<{ item: ProgrammeItem; at: Instant } | null>(null)
  const [isAsking, setAsking] = useState(false)
  const [reason, setReason] = useState('')
  const objection = held && whyNot(day, now, held)
  const putBack = () => {
    setHeld(null)
    setReason('')
    setAsking(false)
  }
  const letGo = (keep: boolean) => {
    if (!held || !keep || objection || held.at === held.item.runsTo) putBack()
    // It cannot be taken back to where it was, so a slip of the hand is asked about first.
    else if (held.item.isAnnounced) setAsking(true)
    else void moveTo(held)
  }
  const moveTo = async ({ item, at }: { item: ProgrammeItem; at: Instant }) => {
    const done = await run({
      itemId: item.id,
      title: item.title,
      note: item.note,
      ...civilParts(at, day.zone),
      which: whichOf(day, at),
      reason,
    })
    if (done) router.refresh()
    // Refused at the reason, it waits for one.
    if (done || !item.isAnnounced) putBack()
  }
  return (
    <div>
      <DayChart
        day={day}
        now={now}
        proposed={proposed}
        held={held && { id: held.item.id, at: held.at, isFree: objection === null }}
        carry={(item, at) => {
          if (!pending && (!isAsking || item.id === held?.item.id)) setHeld({ item, at })
        }}
        letGo={(_item, keep) => letGo(keep)}
      />
      <p role="status" className={objection || refusal ? styles.objection : styles.heldWords}>
        {held ? `${held.item.title} to ${showClock(held.at, day.zone)}. ${objection ?? refusal?.words ?? 'Free.'}` : (refusal?.words ?? '')}
      </p>
      {isAsking && held && !objection && (
        <div className="row">
          <label className="stack close">
            Why it moves, for everybody to read
            <input className={styles.reason} value={reason} maxLength={300} onChange={(event) => setReason(event.target.value)} />
          </label>
          <button type="button" className="button" onClick={() => void moveTo(held)}>
            Move it to {showClock(held.at, day.zone)}
          </button>
          <button type="button" className="button-line" onClick={putBack}>
            Put it back
          </button>
          <p className="small">It was announced, so it cannot come back to {showClock(held.item.runsTo, day.zone)} afterwards.</p>
        </div>
      )}
    </div>
  )
}

/** The words of the same rule that the house applies. */
function whyNot(day: DayPlan, now: Instant, { item, at }: { item: ProgrammeItem; at: Instant }): string | null {
  const others = day.items
    .filter(({ id, isOver }) => id !== item.id && !isOver)
    .map((other) => (other.kind === 'closing' ? { ...other, startsAt: other.runsTo, endsAt: other.runsTo } : other))
  const moved = { ...item, startsAt: at, endsAt: at }
  const was = { ...item, startsAt: Math.max(item.startsAt, item.runsTo) }
  return (
    objectTo({ item: moved, was, others, window: { opensAt: day.opensAt, closesAt: day.closesAt }, now, zone: day.zone })?.words ?? null
  )
}

/** In the hour that comes twice, the one that was meant. */
function whichOf(day: DayPlan, at: Instant): '' | 'first' | 'second' {
  const change = day.clockChange
  if (!change || change.minutes > 0) return ''
  const length = -change.minutes * 60_000
  if (at >= change.at - length && at < change.at) return 'first'
  return at >= change.at && at < change.at + length ? 'second' : ''
}
