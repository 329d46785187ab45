import Link from 'next/link'
import { showDay } from '#kernel/wall-clock'
import type { StreamDay } from '#people/campaign/stream-days.rules'

interface DayNavProps {
  days: readonly StreamDay[]
  /** The number of the one that is shown. */
  shown: number
  zone: string
  path: string
}

/** From one stream day of the campaign to another; nothing where there is only one. */
export function DayNav({ days, shown, zone, path }: DayNavProps) {
  if (days.length < 2) return null
  return (
    <nav aria-label="Stream days">
      <ul className="plain-list row">
        {days.map(({ number, opensAt }) => (
          <li key={number}>
            {number === shown ? (
              <b aria-current="page">{showDay(opensAt, zone)}</b>
            ) : (
              <Link prefetch={false} className="alone" href={`${path}?day=${number}`}>
                {showDay(opensAt, zone)}
              </Link>
            )}
          </li>
        ))}
      </ul>
    </nav>
  )
}
