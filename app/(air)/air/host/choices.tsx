'use client'

import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { Notice } from '#app/_ui/notice.tsx'
import { MINUTE } from '#kernel/instant'
import { showClock } from '#kernel/wall-clock'
import type { ShownGoingOn } from '#sale/planning/change.contract'
import { END_REASON } from './end-later-form'

interface ChoicesProps {
  ripple: ShownGoingOn
  /** What is thrown and not chosen about yet. */
  open: ShownGoingOn['thrown']
  zone: string
  accept(id: string): void
  /** The day was changed. */
  done(): void
}

/** What going on would do that nobody wants unasked, each with the ways out of it. */
export function Choices({ ripple, open, zone, accept, done }: ChoicesProps) {
  const drop = useCommand((input: { itemId: string }) => api.programme.remove.mutate(input).then(() => true))
  const end = useCommand(api.programme.endLater.mutate)
  const minutes = Math.ceil((ripple.endsAt - ripple.streamEndsAt) / (5 * MINUTE)) * 5
  const dropIt = async (itemId: string) => {
    if (await drop.run({ itemId })) done()
  }
  const timeOf = (id: string) => ripple.shifts.find((one) => one.id === id)
  return (
    <>
      {open.map(({ id, kind, title, past }) => {
        const to = timeOf(id)
        return (
          <Notice key={id} tone="bad" title={`${title} has no place near its time`}>
            <p>
              It would go from {to && showClock(to.from, zone)} to {to && showClock(to.to, zone)}
              {past && `, past ${past.title}, which keeps its time`}.
            </p>
            <div className="row">
              {kind !== 'closing' && (
                <button type="button" className="button-line" onClick={() => void dropIt(id)}>
                  Drop {title}
                </button>
              )}
              {past && (
                <button type="button" className="button-line" onClick={() => void dropIt(past.id)}>
                  Drop {past.title}
                </button>
              )}
              <button type="button" className="button-line" onClick={() => accept(id)}>
                Let it come at {to && showClock(to.to, zone)}
              </button>
            </div>
          </Notice>
        )
      })}
      {ripple.beyondEnd.length > 0 && (
        <Notice tone="bad" title="Beyond the end of the stream">
          <p>{ripple.beyondEnd.join(', ')}.</p>
          <button
            type="button"
            className="button-line"
            onClick={async () => {
              if (await end.run({ minutes, reason: END_REASON })) done()
            }}
          >
            Let the stream end at {showClock(ripple.streamEndsAt + minutes * MINUTE, zone)}
          </button>
        </Notice>
      )}
      {(drop.refusal ?? end.refusal) && <p role="alert">{(drop.refusal ?? end.refusal)?.words}</p>}
    </>
  )
}
