'use client'

import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import { type Instant, MINUTE } from '#kernel/instant'
import { showClock } from '#kernel/wall-clock'
import type { Pending } from './use-grace'

/** What stands in the field until the host writes something better. */
export const END_REASON = 'The day takes longer.'

interface EndLaterFormProps {
  endsAt: Instant
  zone: string
  begin(pending: Pending): void
  close(): void
}

/** Moves the end of the stream; it never moves back. */
export function EndLaterForm({ endsAt, zone, begin, close }: EndLaterFormProps) {
  const [minutes, setMinutes] = useState('30')
  const [reason, setReason] = useState(END_REASON)
  const later = /^\d{1,3}$/.test(minutes.trim()) ? Number(minutes) : 0
  const isRight = later >= 1 && later <= 240
  return (
    <form
      className="stack"
      noValidate
      onSubmit={(event) => {
        event.preventDefault()
        if (isRight && reason.trim() !== '')
          begin({ words: `The stream ends ${later} min later`, run: () => api.programme.endLater.mutate({ minutes: later, reason }) })
      }}
    >
      <TextField
        name="minutes"
        label="How many minutes later?"
        width="code"
        inputMode="numeric"
        value={minutes}
        onChange={(event) => setMinutes(event.currentTarget.value)}
      />
      <TextField
        name="reason"
        label="Why? Everybody can read it."
        value={reason}
        onChange={(event) => setReason(event.currentTarget.value)}
      />
      <p role="status">
        {isRight
          ? `It ends at ${showClock(endsAt + later * MINUTE, zone)} instead of ${showClock(endsAt, zone)}. Lots may then close up to that time.`
          : 'Write whole minutes, from 1 to 240.'}
      </p>
      {reason.trim() === '' && <p role="alert">Say why first; everybody can read it.</p>}
      <div className="row">
        <button type="submit" className="button">
          Do it
        </button>
        <button type="button" className="button-line" onClick={close}>
          Leave the end as it is
        </button>
      </div>
    </form>
  )
}
