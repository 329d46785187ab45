import { useRouter } from 'next/navigation'
import { type KeyboardEvent, type PointerEvent, useRef } from 'react'
import { type Instant, MINUTE } from '#kernel/instant'
import { showClock } from '#kernel/wall-clock'
import type { ProgrammeItem } from '#sale/programme/programme.contract'
import { slotOf } from '#sale/programme/programme.rules'
import styles from './day-chart.module.css'

const GRID = 5 * MINUTE
/** Below this a press is a press and no pull, in units of the drawing. */
const STILL = 5

export interface ClosingTagProps {
  item: ProgrammeItem
  held: { at: Instant; isFree: boolean } | null
  x(at: Instant): number
  timeAt(along: number): Instant
  top: number
  zone: string
  carry(at: Instant): void
  letGo(keep: boolean): void
}

/** A closing on its post. It is pulled along the line, or moved by the arrow keys and put down with Enter; Escape puts it back. */
export function ClosingTag({ item, held, x, timeAt, top, zone, carry, letGo }: ClosingTagProps) {
  const router = useRouter()
  const pull = useRef<{ from: number; post: number; isPulled: boolean } | null>(null)
  const at = held?.at ?? item.runsTo
  const post = x(at)
  const slot = slotOf({ kind: 'closing', startsAt: at, endsAt: at })
  const open = () => router.push(`/bench/programme/${item.id}`)

  const along = (event: PointerEvent<SVGGElement>) => {
    const drawing = event.currentTarget.ownerSVGElement
    const matrix = drawing?.getScreenCTM()
    return matrix ? (event.clientX - matrix.e) / matrix.a : 0
  }
  const down = (event: PointerEvent<SVGGElement>) => {
    if (event.button !== 0) return
    if (!item.isOver) event.currentTarget.setPointerCapture(event.pointerId)
    pull.current = { from: along(event), post, isPulled: false }
  }
  const move = (event: PointerEvent<SVGGElement>) => {
    const now = pull.current
    if (!now || item.isOver) return
    const shift = along(event) - now.from
    if (!now.isPulled && Math.abs(shift) < STILL) return
    now.isPulled = true
    carry(Math.round(timeAt(now.post + shift) / GRID) * GRID)
  }
  const up = () => {
    const now = pull.current
    pull.current = null
    if (now?.isPulled) letGo(true)
    else if (now) open()
  }
  const key = (event: KeyboardEvent) => {
    const step = { ArrowLeft: -1, ArrowRight: 1, PageUp: -6, PageDown: 6 }[event.key]
    if (step !== undefined && !item.isOver) carry(Math.round(at / GRID) * GRID + step * GRID)
    else if (event.key === 'Enter' && held) letGo(true)
    else if (event.key === 'Enter') open()
    else if (event.key === 'Escape' && held) letGo(false)
    else return
    event.preventDefault()
  }

  return (
    // biome-ignore lint/a11y/useSemanticElements: a drawing holds no button; this one has its name, its focus and its keys
    <g
      role="button"
      tabIndex={0}
      aria-label={`${item.title}, ${showClock(at, zone)}${item.isOver ? '' : '. Arrow keys move it, Enter puts it down'}`}
      className={item.isOver ? styles.standing : styles.movable}
      onPointerDown={down}
      onPointerMove={move}
      onPointerUp={up}
      onPointerCancel={() => {
        pull.current = null
        if (held) letGo(false)
      }}
      onKeyDown={key}
    >
      {held && <path d={`M${x(item.runsTo)} ${top}v64`} className={styles.proposed} />}
      <rect
        x={x(slot.from)}
        y={top + 14}
        width={x(slot.to) - x(slot.from)}
        height="36"
        className={held && !held.isFree ? styles.slotTaken : styles.slot}
      />
      <path d={`M${post} ${top}v64`} className={item.isOver ? styles.postOver : styles.post} />
      <path d={`M${post} ${top}h30l7 10-7 10h-30z`} className={item.isAnnounced ? styles.flag : styles.flagDraft} />
      <text x={post + 15} y={top + 15} className={item.isAnnounced ? styles.number : styles.numberDraft}>
        {item.lot}
      </text>
      {held && (
        <text x={post} y={top - 6} className={styles.clock}>
          {showClock(at, zone)}
        </text>
      )}
    </g>
  )
}
