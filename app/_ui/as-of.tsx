import type { Instant } from '#kernel/instant'
import { zonePlace } from '#kernel/wall-clock'
import { sayClock } from './when.rules'

interface AsOfProps {
  /** When the house made the page. */
  at: Instant
  zone: string
  /** The page itself. */
  path: string
}

/** Without script nothing on a page moves by itself: it says as of when it is, with a link that reads it again. */
export function AsOf({ at, zone, path }: AsOfProps) {
  return (
    <noscript>
      <p className="small">
        This page is as of {sayClock(at, zone)} in {zonePlace(zone)} and does not change by itself. <a href={path}>Reload for the latest</a>
      </p>
    </noscript>
  )
}
