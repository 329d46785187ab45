import type { Instant } from '#kernel/instant'
import { showClock, zonePlace } from '#kernel/wall-clock'
import { awakeBands, awakeShare } from '#sale/programme/awake.rules'
import { sayClosings } from '#sale/programme/day-words.rules'
import type { DayPlan, ProgrammeItem } from '#sale/programme/programme.contract'
import { ClosingTag } from './closing-tag'
import styles from './day-chart.module.css'
import { hoursOf, scaleOf, WIDTH } from './day-scale'

const BAND = 26

export interface DayChartProps {
  day: DayPlan
  now: Instant
  /** Where a plan would put closings; drawn beside where they are. */
  proposed: readonly { lot: number; at: Instant }[]
  /** The closing that is being moved, and where it would stand. */
  held: { id: string; at: Instant; isFree: boolean } | null
  /** Takes a closing along the line; null where it is let go. */
  carry(item: ProgrammeItem, at: Instant): void
  letGo(item: ProgrammeItem, keep: boolean): void
}

/** The day as one line: who is awake, guests, breaks, closings as tags on posts. The table below says the same in words. */
export function DayChart({ day, now, proposed, held, carry, letGo }: DayChartProps) {
  const zones = day.audience.length > 0 ? day.audience : [{ zone: day.zone }]
  const { last, x, timeAt } = scaleOf(day)
  const top = zones.length * BAND + 24
  const rows = { guests: top, breaks: top + 46, closings: top + 108, foot: top + 178 }
  const window = { opensAt: day.opensAt, closesAt: day.closesAt }
  return (
    // A wide drawing on a narrow screen is scrolled, by keyboard too.
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must take the focus
    <section className={styles.scroll} tabIndex={0} aria-label={dayWords(day)}>
      <svg viewBox={`0 0 ${WIDTH} ${rows.foot + 30}`} className={styles.chart}>
        <title>Who is awake, guests, breaks and closings</title>
        {zones.map((place, index) => (
          <g key={place.zone}>
            <text x="0" y={index * BAND + 20} className={styles.row}>
              {zonePlace(place.zone)}
            </text>
            {awakeBands(window, place).map((band) => (
              <rect
                key={band.from}
                x={x(band.from)}
                y={index * BAND + 4}
                width={x(band.to) - x(band.from)}
                height={BAND - 4}
                className={styles.awake}
                opacity={0.04 + band.weight * 0.36}
              />
            ))}
          </g>
        ))}
        {hoursOf(day.opensAt, last).map((at) => (
          <g key={at}>
            <path d={`M${x(at)} ${top - 10}V${rows.foot}`} className={styles.hour} />
            <text x={x(at)} y={rows.foot + 22} className={styles.clock}>
              {showClock(at, day.zone)}
            </text>
          </g>
        ))}
        {(['guests', 'breaks', 'closings'] as const).map((row) => (
          <text key={row} x="0" y={rows[row] + (row === 'closings' ? 30 : 20)} className={styles.row}>
            {row}
          </text>
        ))}
        {day.items
          .filter(({ kind }) => kind !== 'closing')
          .map((item) => (
            <Span key={item.id} item={item} x={x} y={item.kind === 'guest' ? rows.guests : rows.breaks} />
          ))}
        {proposed.map(({ lot, at }) => (
          <g key={lot}>
            <path d={`M${x(at)} ${rows.closings - 2}v56`} className={styles.proposed} />
            <text x={x(at)} y={rows.closings + 68} className={styles.clock}>
              {lot}
            </text>
          </g>
        ))}
        {day.items
          .filter(({ kind }) => kind === 'closing')
          .map((item) => (
            <ClosingTag
              key={item.id}
              item={item}
              held={held?.id === item.id ? held : null}
              x={x}
              timeAt={timeAt}
              top={rows.closings - 14}
              zone={day.zone}
              carry={(at) => carry(item, at)}
              letGo={(keep) => letGo(item, keep)}
            />
          ))}
        {now >= day.opensAt && now <= last && <path d={`M${x(now)} ${top - 14}V${rows.foot}`} className={styles.now} />}
      </svg>
      {day.audience.length > 1 && <AwakeWords day={day} />}
    </section>
  )
}

function Span({ item, x, y }: { item: ProgrammeItem; x: (at: Instant) => number; y: number }) {
  return (
    <a href={`/bench/programme/${item.id}`} aria-label={item.title}>
      <rect
        x={x(item.startsAt)}
        y={y}
        width={x(item.endsAt) - x(item.startsAt)}
        height="30"
        className={item.kind === 'guest' ? styles.guest : styles.rest}
      />
      {item.kind === 'guest' && (
        <text x={x(item.startsAt) + 8} y={y + 20} className={styles.name}>
          {item.title}
        </text>
      )}
    </a>
  )
}

function AwakeWords({ day }: { day: DayPlan }) {
  const audience = day.audience.map(({ sharePercent, ...place }) => ({ ...place, shareBp: sharePercent * 100 }))
  const closings = day.items.filter(({ kind }) => kind === 'closing')
  if (closings.length === 0) return null
  const shares = closings.map((item) => ({ item, share: awakeShare(audience, item.runsTo) })).sort((a, b) => a.share - b.share)
  const least = shares[0]
  const most = shares.at(-1)
  if (!least || !most) return null
  const percent = (share: number) => `${Math.round(share * 100)} %`
  return (
    <p className="small quiet">
      Of the audience, {percent(most.share)} is awake for lot {most.item.lot} and {percent(least.share)} for lot {least.item.lot}. Waking
      hours are a rule of thumb.
    </p>
  )
}

function dayWords(day: DayPlan): string {
  const count = (kind: ProgrammeItem['kind']) => day.items.filter((item) => item.kind === kind).length
  const clock = (at: Instant) => showClock(at, day.zone)
  return `The stream day from ${clock(day.opensAt)} to ${clock(day.closesAt)}: ${sayClosings(count('closing'))}, ${some(count('guest'), 'guest')}, ${some(count('break'), 'break')}.`
}

const some = (count: number, what: string): string => `${count} ${what}${count === 1 ? '' : 's'}`
