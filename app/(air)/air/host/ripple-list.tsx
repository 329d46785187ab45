import type { Instant } from '#kernel/instant'
import { showClock } from '#kernel/wall-clock'
import type { ShownRipple } from '#sale/planning/change.contract'

/** What a change moves, and who must be told of it. */
export function RippleList({ ripple: { shifts }, zone }: { ripple: Pick<ShownRipple, 'shifts'>; zone: string }) {
  const bidders = shifts.reduce((sum, one) => sum + one.bidders, 0)
  const guests = shifts.filter(({ kind }) => kind === 'guest').map(({ title }) => title)
  return (
    <div className="stack" aria-live="polite">
      <table>
        <caption>{shifts.length === 0 ? 'Nothing moves.' : shifts.length === 1 ? 'This moves' : `These ${shifts.length} move`}</caption>
        <tbody>
          {shifts.map(({ id, title, from, to }) => (
            <tr key={id}>
              <th scope="row">{title}</th>
              <td className="num">
                {showClock(from, zone)} → {whenTo(from, to, zone)}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p>
        {bidders === 0 ? 'No bidder has to be told.' : `${bidders === 1 ? 'One bidder is' : `${bidders} bidders are`} sent an email.`}
        {guests.length > 0 && ` Tell ${guests.join(' and ')} yourself.`} The programme and every calendar follow at once.
      </p>
    </div>
  )
}

function whenTo(from: Instant, to: Instant, zone: string): string {
  if (from === to) return 'stays longer'
  return showClock(from, zone) === showClock(to, zone) ? `${Math.round((to - from) / 1000)} s later` : showClock(to, zone)
}
