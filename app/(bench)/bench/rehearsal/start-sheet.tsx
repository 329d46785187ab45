'use client'

import type { RehearsalView } from '#air/rehearsal/rehearsal.contract'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { Notice } from '#app/_ui/notice.tsx'

type OfHouse = Extract<RehearsalView, { is: 'house' }>

/** What a rehearsal is, and the button that starts one beside the house. */
export function StartSheet({ view: { state, address }, look }: { view: OfHouse; look(): void }) {
  const start = useCommand(async () => {
    await api.rehearsal.start.mutate()
    return true
  })
  const stop = useCommand(async () => {
    await api.rehearsal.stop.mutate()
    return true
  })
  const isOn = state === 'open' || state === 'over'
  return (
    <section className="sheet act stack" aria-labelledby="rehearse">
      <h2 id="rehearse">Play the whole day, sixty times as fast</h2>
      <p>
        A second process plays the day on a copy of the campaign without its bids, reserves and letters: the programme, the host’s screen
        and the overlays run as they will, invented bidders place real bids, and you can make a guest late, lose the stream, or kill the
        process. It touches nothing in the house: it signs with its own key, sends no email, and the copy is deleted when you stop it.
      </p>
      {state === 'failed' && (
        <Notice tone="bad" title="It did not start">
          <p>There must be a closing still to come, and its port must be free. The house’s log says which is missing.</p>
        </Notice>
      )}
      {start.refusal && <p role="alert">{start.refusal.words}</p>}
      <p role="status">
        {state === 'opening' && 'The copy is being made …'}
        {state === 'open' && 'It is running. Step in to be the host, or to make things go wrong:'}
        {state === 'over' && 'The day is over; the report is below. You can still look around in it:'}
      </p>
      {isOn && (
        <p>
          <a href={address} target="_blank" rel="noreferrer">
            Step into the rehearsal
          </a>{' '}
          <span className="quiet">This address is yours: it opens the copy in your role. Other staff find their own on this page.</span>
        </p>
      )}
      <div className="row">
        {state === 'none' || state === 'failed' ? (
          <button type="button" className="button" aria-busy={start.pending} onClick={() => void start.run(undefined).then(look)}>
            Start a rehearsal
          </button>
        ) : (
          <button type="button" className="button-line" aria-busy={stop.pending} onClick={() => void stop.run(undefined).then(look)}>
            Stop it and delete the copy
          </button>
        )}
      </div>
    </section>
  )
}
