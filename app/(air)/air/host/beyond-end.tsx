import { Notice } from '#app/_ui/notice.tsx'
import { MINUTE } from '#kernel/instant'
import { showClock } from '#kernel/wall-clock'
import type { ShownRipple } from '#sale/planning/change.contract'

/** More than so many minutes is a new plan. */
const MOST = 240

interface BeyondEndProps {
  ripple: Pick<ShownRipple, 'beyondEnd' | 'streamEndsAt' | 'endsAt'>
  zone: string
  /** Lets the stream end so many minutes later, once all of it is done. */
  choose(minutes: number): void
}

/** What would stand beyond the end of the stream, and the way out of it. */
export function BeyondEnd({ ripple: { beyondEnd, streamEndsAt, endsAt }, zone, choose }: BeyondEndProps) {
  if (beyondEnd.length === 0) return null
  const minutes = Math.ceil((endsAt - streamEndsAt) / (5 * MINUTE)) * 5
  return (
    <Notice tone="bad" title="Beyond the end of the stream">
      <p>{beyondEnd.join(', ')}.</p>
      {minutes > MOST ? (
        <p>That is more than four hours. Plan the rest of the day anew, on the page for the day.</p>
      ) : (
        <button type="button" className="button-line" onClick={() => choose(minutes)}>
          Let the stream end at {showClock(streamEndsAt + minutes * MINUTE, zone)}
        </button>
      )}
    </Notice>
  )
}
