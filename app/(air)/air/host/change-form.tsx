'use client'

import { useEffect, useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { refusedBy } from '#app/_trpc/use-command.ts'
import { SelectField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { MINUTE } from '#kernel/instant'
import { showClock } from '#kernel/wall-clock'
import type { ShownRipple } from '#sale/planning/change.contract'
import type { ProgrammeItem } from '#sale/programme/programme.contract'
import type { DayChange } from '#sale/programme/ripple.rules'
import { BeyondEnd } from './beyond-end'
import { RippleList } from './ripple-list'
import type { Pending } from './use-grace'
import { type ChangeWay, REASONS } from './ways'

export interface ChangeFormProps {
  way: ChangeWay
  /** What has not begun, in order. */
  coming: readonly ProgrammeItem[]
  zone: string
  begin(pending: Pending): void
  close(): void
}

/** Asks what is meant, shows what it would move and who must be told, and hands it over to be done. */
export function ChangeForm({ way, coming, zone, begin, close }: ChangeFormProps) {
  // What closes elsewhere is not moved from here.
  const pool = coming.filter(({ kind, isSoldElsewhere }) => kind === (way === 'guest' ? 'guest' : 'closing') && !isSoldElsewhere)
  const [item, setItem] = useState(pool[0]?.id ?? '')
  const [other, setOther] = useState(pool[1]?.id ?? '')
  const [minutes, setMinutes] = useState('10')
  const [reason, setReason] = useState<string>(REASONS[way])
  const [missing, setMissing] = useState('')
  const change = changeOf(way, { item, other, minutes: Number(minutes) })
  const { ripple, trouble } = useRipple(change)
  const [endsLater, setEndsLater] = useState(0)
  const isStuck = ripple !== null && ripple.endsAt > ripple.streamEndsAt + endsLater * MINUTE

  if (way !== 'all-later' && pool.length < (way === 'swap' ? 2 : 1)) {
    const none = {
      guest: 'No guest is still to come.',
      swap: 'There are not two closings still to come.',
      extend: 'No closing is still to come.',
    }
    return (
      <>
        <p>{none[way]}</p>
        <button type="button" className="button-line" onClick={close}>
          Close
        </button>
      </>
    )
  }
  const options = pool.map(({ id, title, runsTo, startsAt, kind }) => ({
    value: id,
    label: `${showClock(kind === 'closing' ? runsTo : startsAt, zone)} ${title}`,
  }))
  const named = (id: string) => pool.find((one) => one.id === id)?.title ?? ''
  const doIt = () => {
    if (reason.trim() === '') setMissing('Say why first; bidders are told.')
    else if (change && ripple && !isStuck) {
      const shown = ripple.shifts.map(({ id, to }) => ({ id, to }))
      begin({
        words:
          way === 'swap'
            ? `${named(item)} and ${named(other)} swap`
            : `${way === 'all-later' ? 'Everything' : named(item)}: ${minutes} min later`,
        run: () => api.planning.applyChange.mutate({ change, reason, shown, ...(ripple.beyondEnd.length > 0 && { endsLater }) }),
      })
    }
  }
  return (
    <form
      className="stack"
      noValidate
      onSubmit={(event) => {
        event.preventDefault()
        doIt()
      }}
    >
      {way !== 'all-later' && (
        <SelectField
          name="item"
          label={way === 'guest' ? 'Which guest?' : way === 'swap' ? 'This one' : 'Which closing?'}
          options={options}
          value={item}
          onChange={(event) => setItem(event.currentTarget.value)}
        />
      )}
      {way === 'swap' ? (
        <SelectField
          name="other"
          label="with this one"
          hint="The later of the two keeps its time; the other goes behind it."
          options={options}
          value={other}
          onChange={(event) => setOther(event.currentTarget.value)}
        />
      ) : (
        <TextField
          name="minutes"
          label="How many minutes later?"
          width="code"
          inputMode="numeric"
          value={minutes}
          onChange={(event) => setMinutes(event.currentTarget.value)}
        />
      )}
      <TextField name="reason" label="Why? Bidders read it." value={reason} onChange={(event) => setReason(event.currentTarget.value)} />
      {(missing || trouble) && <p role="alert">{missing || trouble}</p>}
      {change === null && <p role="alert">Write whole minutes, one at least.</p>}
      {ripple && <RippleList ripple={ripple} zone={zone} />}
      {ripple && isStuck && <BeyondEnd ripple={ripple} zone={zone} choose={setEndsLater} />}
      {ripple && ripple.beyondEnd.length > 0 && !isStuck && (
        <p role="status">
          The stream then ends at {showClock(ripple.streamEndsAt + endsLater * MINUTE, zone)}.{' '}
          <button type="button" className="button-line" onClick={() => setEndsLater(0)}>
            Take it back
          </button>
        </p>
      )}
      <div className="row">
        <button type="submit" className="button" disabled={isStuck}>
          Do it
        </button>
        <button type="button" className="button-line" onClick={close}>
          Leave the day as it is
        </button>
      </div>
    </form>
  )
}

function changeOf(way: ChangeWay, { item, other, minutes }: { item: string; other: string; minutes: number }): DayChange | null {
  if (way === 'swap') return { kind: 'swap', firstId: item, secondId: other }
  if (!Number.isInteger(minutes) || minutes < 1) return null
  return way === 'all-later' ? { kind: 'all-later', minutes } : { kind: 'later', itemId: item, minutes }
}

/** What a change would move, asked of the house whenever it is another one. */
function useRipple(change: DayChange | null): { ripple: ShownRipple | null; trouble: string } {
  const [ripple, setRipple] = useState<ShownRipple | null>(null)
  const [trouble, setTrouble] = useState('')
  const asked = JSON.stringify(change)
  useEffect(() => {
    let isStale = false
    const wanted = JSON.parse(asked) as DayChange | null
    setRipple(null)
    setTrouble('')
    if (!wanted) return
    api.planning.previewChange.query(wanted).then(
      (shown) => !isStale && setRipple(shown),
      (failed: unknown) => !isStale && setTrouble(refusedBy(failed).words),
    )
    return () => {
      isStale = true
    }
  }, [asked])
  return { ripple, trouble }
}
