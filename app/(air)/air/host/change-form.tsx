'use client'

import { useEffect, useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { refusedBy } from '#app/_trpc/use-command.ts'
import { SelectField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { showClock } from '#kernel/wall-clock'
import type { ShownChange } from '#sale/planning/change.contract'
import type { ProgrammeItem } from '#sale/programme/programme.contract'
import type { DayChange } from '#sale/programme/ripple.rules'
import { asSent, Choices, type Chosen, NOTHING_CHOSEN, stillOpen, toDo } from './choices'
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
  const [chosen, setChosen] = useState<Chosen>(NOTHING_CHOSEN)
  const { ripple, trouble } = useRipple(change, chosen)
  const open = stillOpen(ripple, chosen)
  const isStuck = open.length > 0 || (ripple?.beyondEnd.length ?? 0) > 0
  // What was chosen was about what was shown: another change is looked at anew.
  const anew = (set: (value: string) => void) => (value: string) => {
    setChosen(NOTHING_CHOSEN)
    set(value)
  }

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
        run: () => api.planning.applyChange.mutate({ change, reason, shown, chosen: asSent(chosen) }),
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
          onChange={(event) => anew(setItem)(event.currentTarget.value)}
        />
      )}
      {way === 'swap' ? (
        <SelectField
          name="other"
          label="with this one"
          hint="The later of the two keeps its time; the other goes behind it."
          options={options}
          value={other}
          onChange={(event) => anew(setOther)(event.currentTarget.value)}
        />
      ) : (
        <TextField
          name="minutes"
          label="How many minutes later?"
          width="code"
          inputMode="numeric"
          value={minutes}
          onChange={(event) => anew(setMinutes)(event.currentTarget.value)}
        />
      )}
      <TextField name="reason" label="Why? Bidders read it." value={reason} onChange={(event) => setReason(event.currentTarget.value)} />
      {(missing || trouble) && <p role="alert">{missing || trouble}</p>}
      {change === null && <p role="alert">Write whole minutes, one at least.</p>}
      {ripple && <RippleList ripple={ripple} zone={zone} />}
      {ripple?.fits && open.length > 0 && (
        <p>
          With {ripple.fits} min nothing is thrown far.{' '}
          <button type="button" className="button-line" onClick={() => anew(setMinutes)(String(ripple.fits))}>
            Make it {ripple.fits} min
          </button>
        </p>
      )}
      {ripple && <Choices ripple={ripple} chosen={chosen} open={open} zone={zone} then="with this change" choose={setChosen} />}
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
function useRipple(change: DayChange | null, chosen: Chosen): { ripple: ShownChange | null; trouble: string } {
  const [ripple, setRipple] = useState<ShownChange | null>(null)
  const [trouble, setTrouble] = useState('')
  const asked = JSON.stringify(change && { change, chosen: toDo(chosen) })
  useEffect(() => {
    let isStale = false
    const wanted = JSON.parse(asked) as { change: DayChange; chosen: ReturnType<typeof toDo> } | null
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
