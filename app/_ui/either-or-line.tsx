import { classes } from './classes'
import { type Day, type DayMark, placeDay } from './dayline.rules'
import styles from './either-or-line.module.css'

export interface EitherOrPost extends DayMark {
  /** Its place in the either-or. */
  order: number
  phase: 'waiting' | 'awake' | 'won' | 'lost' | 'lapsed'
}

export interface EitherOrLineProps extends Omit<Day, 'marks'> {
  posts: readonly EitherOrPost[]
  /** The other closings of the day, drawn small. */
  others: readonly DayMark[]
}

const PHASES: Record<EitherOrPost['phase'], string> = {
  waiting: 'waits',
  awake: 'stands',
  won: 'won',
  lost: 'lost',
  lapsed: 'lapsed',
}

// As wide as a phone, so that what is written on it can be read there; wider screens draw it larger.
const WIDTH = 420
const LINE = 50
const RADIUS = 11

/** An either-or on the programme's line: its lots as numbered tags at their closings, and an arc from each to the next in its order. */
export function EitherOrLine({ posts, others, ...day }: EitherOrLineProps) {
  const places = placeDay({ ...day, marks: [...posts, ...others] })
  const x = (at: number, label: string) =>
    RADIUS + (places.marks.find((mark) => mark.at === at && mark.label === label)?.place ?? 0) * (WIDTH - 2 * RADIUS)
  const placed = [...posts].sort((a, b) => a.order - b.order).map((post) => ({ ...post, x: x(post.at, post.label) }))
  const spoken = placed.map(({ order, label, phase }) => `${order}, ${label}, ${PHASES[phase]}`).join('; ')
  return (
    <div>
      <svg className={styles.line} viewBox={`0 0 ${WIDTH} 82`} role="img" aria-label={`The either-or on the stream day: ${spoken}.`}>
        <line x1={RADIUS} x2={WIDTH - RADIUS} y1={LINE} y2={LINE} className={styles.base} />
        {others.map(({ at, label }) => (
          <line key={label} x1={x(at, label)} x2={x(at, label)} y1={LINE - 6} y2={LINE + 6} className={styles.other} />
        ))}
        {placed.slice(1).map((post, index) => {
          const from = placed[index]
          if (!from) return null
          const top = Math.max(3, LINE - 18 - Math.abs(post.x - from.x) / 6)
          const isPossible = post.x > from.x
          return (
            <path
              key={post.order}
              d={`M ${from.x} ${LINE - RADIUS} Q ${(from.x + post.x) / 2} ${top * 2 - (LINE - RADIUS)} ${post.x} ${LINE - RADIUS}`}
              className={classes(styles.arc, !isPossible && styles.late)}
            />
          )
        })}
        {placed.map(({ order, phase, x: at }) => (
          <g key={order} className={styles[phase]}>
            <circle cx={at} cy={LINE} r={RADIUS} className={styles.tag} />
            <text x={at} y={LINE + 5} textAnchor="middle" className={styles.order}>
              {order}
            </text>
          </g>
        ))}
        {places.dot !== null && (
          <circle cx={RADIUS + places.dot * (WIDTH - 2 * RADIUS)} cy={LINE + RADIUS + 9} r={4} className={styles.now} />
        )}
      </svg>
      <p className={styles.ends} aria-hidden="true">
        <span>{places.from}</span>
        <span>{places.to}</span>
      </p>
    </div>
  )
}
