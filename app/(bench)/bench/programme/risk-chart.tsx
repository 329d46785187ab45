import { MINUTE } from '#kernel/instant'
import { showClock } from '#kernel/wall-clock'
import type { DayPlan } from '#sale/programme/programme.contract'
import { type Often, sayShare } from '#sale/simulation/chance.rules'
import type { ClosingRisk, DayRisk } from '#sale/simulation/simulation.contract'
import chart from './day-chart.module.css'
import { hoursOf, scaleOf, WIDTH } from './day-scale'
import styles from './risk-chart.module.css'

const ROW = 74
const TALL = 46
const WHEN = 30
const COLLIDES = WHEN + 34
const SQUEEZED = COLLIDES + ROW
const FOOT = SQUEEZED + ROW

/** Under the day's line and on its scale: when each lot may close, shaded by how likely, and how often it runs into what comes next. */
export function RiskChart({ day, risk }: { day: DayPlan; risk: DayRisk }) {
  const { x, last } = scaleOf(day)
  const worst = [...risk.closings].sort((a, b) => b.collides.share - a.collides.share)[0]
  return (
    <section
      className={chart.scroll}
      // biome-ignore lint/a11y/noNoninteractiveTabindex: a wide drawing on a narrow screen is scrolled, by keyboard too
      tabIndex={0}
      aria-label={`How the day may go. ${worst ? worstWords(worst) : ''} The table says the same.`}
    >
      <svg viewBox={`0 0 ${WIDTH} ${FOOT + 30}`} className={chart.chart}>
        <title>When each lot may close, and how often it runs into what comes next</title>
        {[
          [WHEN + 4, 'closes at'],
          [COLLIDES + 38, 'collides, %'],
          [SQUEEZED + 38, 'guest stays, %'],
        ].map(([y, words]) => (
          <text key={words} x="0" y={y} className={chart.row}>
            {words}
          </text>
        ))}
        {hoursOf(day.opensAt, last).map((at) => (
          <g key={at}>
            <path d={`M${x(at)} 4V${FOOT}`} className={chart.hour} />
            <text x={x(at)} y={FOOT + 22} className={chart.clock}>
              {showClock(at, day.zone)}
            </text>
          </g>
        ))}
        <path
          d={`M${x(day.opensAt)} ${COLLIDES + TALL}H${x(last)}M${x(day.opensAt)} ${SQUEEZED + TALL}H${x(last)}`}
          className={chart.hour}
        />
        {risk.closings.map((one) => (
          <g key={one.lot}>
            <Spread risk={one} x={x} />
            <Bar at={x(one.at)} foot={COLLIDES + TALL} often={one.collides} className={styles.collides} />
            <Bar at={x(one.at)} foot={SQUEEZED + TALL} often={one.squeezed} className={styles.squeezed} />
          </g>
        ))}
        <path d={`M${x(day.closesAt)} 4V${FOOT}`} className={chart.now} />
      </svg>
    </section>
  )
}

/** A cell for each minute after its time, the darker the more days closed it then. */
function Spread({ risk, x }: { risk: ClosingRisk; x: (at: number) => number }) {
  const days = risk.spread.reduce((sum, count) => sum + count, 0)
  const wide = x(risk.at + MINUTE) - x(risk.at)
  return (
    <>
      <path d={`M${x(risk.at)} ${WHEN - 16}v32`} className={styles.post} />
      {risk.spread.map((count, minute) =>
        count === 0 ? null : (
          <rect
            // biome-ignore lint/suspicious/noArrayIndexKey: the place in the list is the minute, which is what it is
            key={minute}
            x={x(risk.at) + minute * wide}
            y={WHEN - 10}
            width={Math.max(wide, 1)}
            height="22"
            className={styles.when}
            opacity={0.12 + 0.88 * Math.sqrt(count / days)}
          />
        ),
      )}
      <text x={x(risk.at)} y={WHEN - 17} className={styles.lot}>
        {risk.lot}
      </text>
    </>
  )
}

/** A bar as high as the chance, with the interval that holds the true one as a whisker. */
function Bar({
  at,
  foot,
  often: { share, low, high },
  className,
}: {
  at: number
  foot: number
  often: Often
  className: string | undefined
}) {
  if (share === 0) return null
  return (
    <g>
      <rect x={at - 5} y={foot - TALL * share} width="10" height={TALL * share} className={className} />
      <path d={`M${at} ${foot - TALL * low}V${foot - TALL * high}`} className={styles.whisker} />
      <text x={at} y={foot + 14} className={styles.figure}>
        {share < 0.01 ? '<1' : Math.round(share * 100)}
      </text>
    </g>
  )
}

const worstWords = ({ lot, collides }: ClosingRisk): string =>
  collides.times === 0 ? 'No closing collided.' : `Lot ${lot} collides most often, in ${sayShare(collides.share)} of days.`
