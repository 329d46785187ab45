import { Notice } from '#app/_ui/notice.tsx'
import { showClock } from '#kernel/wall-clock'
import type { ShownRipple } from '#sale/planning/change.contract'
import { BeyondEnd } from './beyond-end'

/** What was chosen about the day before its clocks go on or a change is made; nothing of it is done before. */
export interface Chosen {
  accepted: { id: string; words: string }[]
  drop: { id: string; title: string }[]
  endsLater: number
}

export const NOTHING_CHOSEN: Chosen = { accepted: [], drop: [], endsLater: 0 }

interface ChoicesProps {
  ripple: ShownRipple
  chosen: Chosen
  /** What is thrown and not chosen about yet. */
  open: ShownRipple['thrown']
  zone: string
  /** With what it is done: "when the clocks go on". */
  then: string
  choose(chosen: Chosen): void
}

/** What it would do that nobody wants unasked, each with the ways out of it; and what was chosen, to be taken back. */
export function Choices({ ripple, chosen, open, zone, then, choose }: ChoicesProps) {
  const dropIt = (id: string, title: string) => choose({ ...chosen, drop: [...chosen.drop, { id, title }] })
  const timeOf = (id: string) => ripple.shifts.find((one) => one.id === id)
  return (
    <>
      {open.map(({ id, kind, title, past }) => {
        const to = timeOf(id)
        return (
          <Notice key={id} tone="bad" title={`${title} does not fit near its time`}>
            <p>
              It would go from {to && showClock(to.from, zone)} to {to && showClock(to.to, zone)}
              {past && `, past ${past.title}, which keeps its time`}.
            </p>
            <div className="row">
              {kind !== 'closing' && (
                <button type="button" className="button-line" onClick={() => dropIt(id, title)}>
                  Drop {title}
                </button>
              )}
              {past && (
                <button type="button" className="button-line" onClick={() => dropIt(past.id, past.title)}>
                  Drop {past.title}
                </button>
              )}
              <button
                type="button"
                className="button-line"
                onClick={() =>
                  choose({
                    ...chosen,
                    accepted: [...chosen.accepted, { id, words: `${title} comes at ${to ? showClock(to.to, zone) : 'a later time'}` }],
                  })
                }
              >
                Let it come at {to && showClock(to.to, zone)}
              </button>
            </div>
          </Notice>
        )
      })}
      <BeyondEnd ripple={ripple} zone={zone} choose={(minutes) => choose({ ...chosen, endsLater: chosen.endsLater + minutes })} />
      <ChosenList ripple={ripple} chosen={chosen} zone={zone} then={then} choose={choose} />
    </>
  )
}

/** What is thrown and not chosen about yet. */
export const stillOpen = (ripple: ShownRipple | null, { accepted }: Chosen): ShownRipple['thrown'] =>
  ripple?.thrown.filter(({ id }) => !accepted.some((one) => one.id === id)) ?? []

/** What is done of it at once, and what is only asked about. */
export const toDo = ({ drop, endsLater }: Chosen) => ({ drop: drop.map(({ id }) => id), endsLater })
export const asSent = (chosen: Chosen) => ({ ...toDo(chosen), accepted: chosen.accepted.map(({ id }) => id) })

function ChosenList({ ripple, chosen, zone, then, choose }: Omit<ChoicesProps, 'open'>) {
  const { accepted, drop, endsLater } = chosen
  const lines = [
    ...drop.map(({ id, title }) => ({
      id,
      words: `${title} is dropped`,
      without: { ...chosen, drop: drop.filter((one) => one.id !== id) },
    })),
    ...accepted.map(({ id, words }) => ({ id, words, without: { ...chosen, accepted: accepted.filter((one) => one.id !== id) } })),
    ...(endsLater > 0
      ? [{ id: 'end', words: `The stream ends at ${showClock(ripple.streamEndsAt, zone)}`, without: { ...chosen, endsLater: 0 } }]
      : []),
  ]
  if (lines.length === 0) return null
  return (
    <ul aria-label={`Chosen, and done ${then}`}>
      {lines.map(({ id, words, without }) => (
        <li key={id}>
          {words}, {then}.{' '}
          <button type="button" className="button-line" onClick={() => choose(without)}>
            Take it back
          </button>
        </li>
      ))}
    </ul>
  )
}
