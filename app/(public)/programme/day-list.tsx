'use client'

import Link from 'next/link'
import { useLive, useLiveness } from '#app/_trpc/use-live.ts'
import { Chip } from '#app/_ui/chip.tsx'
import { classes } from '#app/_ui/classes.ts'
import { Countdown } from '#app/_ui/countdown.tsx'
import { EmptyState } from '#app/_ui/empty-state.tsx'
import { Tag } from '#app/_ui/tag.tsx'
import { useHouseNow } from '#app/_ui/use-house-now.ts'
import { When } from '#app/_ui/when.tsx'
import type { Instant } from '#kernel/instant'
import { showDay } from '#kernel/wall-clock'
import type { Programme, ProgrammeItem } from '#sale/programme/programme.contract'
import { nowAndNext } from '#sale/programme/programme.rules'
import styles from './programme.module.css'

/** The day as a wire from top to bottom: what is on and what comes first, then the rest, then what has been. */
export function DayList({ initial, serverNow }: { initial: Programme; serverNow: Instant }) {
  const { items, zone, opensAt, closesAt, number, others } = useLive<Programme>('programme', initial)
  const { offset } = useLiveness()
  const now = useHouseNow(serverNow, null, offset)
  const { now: on, next } = nowAndNext(items, now)
  const first = next.slice(0, on.length > 0 ? 1 : 2)
  const later = next.slice(first.length)
  const past = items.filter((item) => item.isOver || (!on.some(({ id }) => id === item.id) && !next.some(({ id }) => id === item.id)))
  const clock = { serverNow, offset, zone }
  return (
    <>
      <p>
        The stream {now > closesAt ? 'ran' : 'runs'} from <When at={opensAt} zone={zone} /> to <When at={closesAt} zone={zone} />.
      </p>
      {items.length === 0 && (
        <EmptyState title="Nothing is announced yet.">
          <p>Closings, guests and breaks appear here as they are announced.</p>
        </EmptyState>
      )}
      {on.length > 0 && <Part title="On now" items={on} clock={clock} isOn />}
      {first.length > 0 && <Part title="Next" items={first} clock={clock} isOn={on.length === 0} />}
      {later.length > 0 && <Part title="Later" items={later} clock={clock} />}
      {others.map((day) =>
        day.number < number ? null : (
          <Part key={day.number} title={showDay(day.opensAt, zone)} span={day} items={day.items} clock={clock} />
        ),
      )}
      {past.length > 0 && <Part title="Already over" items={past} clock={clock} />}
      {[...others]
        .reverse()
        .map((day) =>
          day.number > number || day.items.length === 0 ? null : (
            <Part key={day.number} title={showDay(day.opensAt, zone)} span={day} items={day.items} clock={clock} />
          ),
        )}
    </>
  )
}

interface Clock {
  serverNow: Instant
  offset: number | undefined
  zone: string
}

interface PartProps {
  title: string
  items: readonly ProgrammeItem[]
  clock: Clock
  isOn?: boolean
  /** When the stream runs, where it is of another day. */
  span?: Pick<Programme, 'opensAt' | 'closesAt'>
}

function Part({ title, items, clock, isOn = false, span }: PartProps) {
  return (
    <section className="stack close">
      <h2>{title}</h2>
      {span && (
        <p className="quiet">
          From <When at={span.opensAt} zone={clock.zone} /> to <When at={span.closesAt} zone={clock.zone} />.
          {items.length === 0 && ' What closes on it appears here as it is announced.'}
        </p>
      )}
      <ol className={classes('plain-list', items.length > 0 && styles.wire)}>
        {items.map((item) => (
          <li key={item.id} className={classes(styles.item, styles[item.kind])}>
            <span className={styles.at}>
              <When at={item.kind === 'closing' ? item.runsTo : item.startsAt} zone={clock.zone} show="time" />
            </span>
            <Entry item={item} clock={clock} isOn={isOn} />
          </li>
        ))}
      </ol>
    </section>
  )
}

function Entry({ item, clock, isOn }: { item: ProgrammeItem; clock: Clock; isOn: boolean }) {
  if (item.kind === 'break') return <p className={styles.rest}>{item.title}</p>
  if (item.kind === 'guest' || item.lot === null) {
    return (
      <div className={styles.guest}>
        <p className={styles.name}>{item.title}</p>
        {item.note && <p className="small">{item.note}</p>}
        <p className="small quiet">
          until <When at={item.endsAt} zone={clock.zone} show="time" brief />
        </p>
      </div>
    )
  }
  const isMoved = item.runsTo !== item.startsAt
  const chip = item.isWithdrawn ? (
    <Chip tone="bad">Withdrawn</Chip>
  ) : item.isHeld ? (
    <Chip tone="doubt">Held</Chip>
  ) : item.isOver ? (
    <Chip>Closed</Chip>
  ) : item.isExtended ? (
    <Chip tone="copper">Extended</Chip>
  ) : isMoved ? (
    <Chip>Later</Chip>
  ) : null
  return (
    <Tag code={`Lot ${item.lot}`} href={`/lots/${item.lot}`} tone={isOn ? 'copper' : 'plain'} aside={chip}>
      <p className={styles.name}>{item.title.replace(/^Lot \d+: /, '')}</p>
      {item.fixedPrice && <p>{item.fixedPrice}</p>}
      {item.note && <p className="small">{item.note}</p>}
      {item.unit && (
        <p className="small">
          <Link prefetch={false} className="alone" href={`/units/${item.unit}`}>
            Record of {item.unit}
          </Link>
        </p>
      )}
      {isOn && !item.isOver && (
        <Countdown
          closesAt={item.runsTo}
          serverNow={clock.serverNow}
          offset={clock.offset}
          zone={clock.zone}
          heldSince={item.heldSince}
          lateBid={item.lateBid}
          bare
          low
        />
      )}
    </Tag>
  )
}
