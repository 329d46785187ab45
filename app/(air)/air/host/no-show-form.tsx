'use client'

import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { SelectField } from '#app/_ui/forms/text-fields.tsx'
import { showClock } from '#kernel/wall-clock'
import type { ProgrammeItem } from '#sale/programme/programme.contract'
import type { Pending } from './use-grace'

interface NoShowFormProps {
  coming: readonly ProgrammeItem[]
  zone: string
  begin(pending: Pending): void
  close(): void
}

/** Takes a guest who does not come out of the day; closings stay at their times. */
export function NoShowForm({ coming, zone, begin, close }: NoShowFormProps) {
  const guests = coming.filter(({ kind }) => kind === 'guest')
  const [chosen, setChosen] = useState(guests[0]?.id ?? '')
  const guest = guests.find(({ id }) => id === chosen)
  return (
    <form
      className="stack"
      onSubmit={(event) => {
        event.preventDefault()
        if (guest) begin({ words: `${guest.title} does not come`, run: () => api.programme.remove.mutate({ itemId: guest.id }) })
      }}
    >
      {guest ? (
        <>
          <SelectField
            name="guest"
            label="Which guest?"
            options={guests.map(({ id, title, startsAt }) => ({ value: id, label: `${showClock(startsAt, zone)} ${title}` }))}
            value={chosen}
            onChange={(event) => setChosen(event.currentTarget.value)}
          />
          <p>The programme and every calendar say that they do not come. Closings stay where they are.</p>
        </>
      ) : (
        <p>No guest is on or still to come.</p>
      )}
      <div className="row">
        {guest && (
          <button type="submit" className="button">
            Take them out
          </button>
        )}
        <button type="button" className="button-line" onClick={close}>
          {guest ? 'Leave them in' : 'Close'}
        </button>
      </div>
    </form>
  )
}
