'use client'

import { type Instant, toIso } from '#kernel/instant'
import { zonePlace } from '#kernel/wall-clock'
import { useReaderZone } from './reader-zone'
import { sameWall, sayWhen, type WhenShow } from './when.rules'

export interface WhenProps {
  at: Instant
  /** The stream's zone, an IANA name. It is what a page without script shows. */
  zone: string
  show?: WhenShow
  /** Leaves out the second time, where a table has no room for it. */
  brief?: boolean
}

/** An instant by the reader's own clock, and by the stream's where that differs. */
export function When({ at, zone, show = 'both', brief = false }: WhenProps) {
  const reader = useReaderZone()
  const same = reader === null || sameWall(at, reader, zone)
  const own = sayWhen(at, reader ?? zone, show)
  const sameDay = reader === null || sayWhen(at, reader, 'day') === sayWhen(at, zone, 'day')
  return (
    <time dateTime={toIso(at)} style={{ fontVariantNumeric: 'tabular-nums' }}>
      {own}
      {reader === null && show !== 'day' && <span className="quiet"> in {zonePlace(zone)}</span>}
      {!same && !brief && (
        <span className="quiet"> for you, {sayWhen(at, zone, show === 'day' ? 'day' : sameDay ? 'time' : 'both')} on the stream</span>
      )}
    </time>
  )
}
