import { useEffect, useState } from 'react'
import type { AirLot } from '#air/screens/host.rules'
import type { CardGauge, LotOnAir } from '#air/screens/overlay.contract'
import { api } from '#app/_trpc/client.ts'
import { classes } from '#app/_ui/classes.ts'
import { placeGauge } from '#paper/gauge.rules'
import styles from './card-piece.module.css'
import plate from './plate.module.css'
import { TagPlate } from './tag-plate'
import type { OverlayAir } from './use-overlay'

/** Records change seldom while a lot is on air; this often it is asked again. */
const ASK_AGAIN_MS = 30_000
const MOST_GAUGES = 3
const MOST_EXTRAS = 3

/** The lot’s tag with what was measured and passed, and what comes with it. */
export function LotCard({ lot, air, hasTag }: { lot: AirLot; air: OverlayAir; hasTag: boolean }) {
  const card = useCard(lot, air.overlayKey)
  if (!card) return null
  const extras = card.extras.slice(0, MOST_EXTRAS)
  return (
    <div className={styles.card}>
      {hasTag && <TagPlate lot={lot} low />}
      <div className={classes(plate.plate, styles.record)}>
        <p>{card.sentence}</p>
        {card.gauges.slice(0, MOST_GAUGES).map((gauge) => (
          <AirGauge key={gauge.name} {...gauge} />
        ))}
        {extras.length > 0 && (
          <p className={styles.extras}>
            <span className={plate.quiet}>With it</span> {extras.join(' · ')}
            {card.extras.length > MOST_EXTRAS && ` · and ${card.extras.length - MOST_EXTRAS} more`}
          </p>
        )}
      </div>
    </div>
  )
}

function useCard(lot: AirLot, key: string): LotOnAir | null {
  const [card, setCard] = useState<LotOnAir | null>(null)
  const { number, state } = lot
  // biome-ignore lint/correctness/useExhaustiveDependencies: a lot in another state may have another record
  useEffect(() => {
    let isCurrent = true
    const ask = () =>
      api.air.overlayCard.mutate({ key, lot: number }).then(
        (answer) => isCurrent && setCard(answer),
        // Not reached: the card that stands is as true as it was.
        () => {},
      )
    void ask()
    const timer = setInterval(ask, ASK_AGAIN_MS)
    return () => {
      isCurrent = false
      clearInterval(timer)
    }
  }, [key, number, state])
  return card?.lot === number ? card : null
}

/** A line of a record: its name, the reading, and where that lies in what is allowed. */
function AirGauge(gauge: CardGauge) {
  const { lower, upper, value } = placeGauge(gauge)
  const percent = (fraction: number) => `${(fraction * 100).toFixed(1)}%`
  return (
    <div className={styles.gauge}>
      <p className={styles.measured}>{gauge.name}</p>
      <p className={styles.reading}>{gauge.shown}</p>
      <svg className={styles.scale} aria-hidden="true">
        <rect className={styles.ground} width="100%" height="100%" />
        <rect className={styles.band} x={percent(lower ?? 0)} width={percent((upper ?? 1) - (lower ?? 0))} height="100%" />
        <rect className={styles.tick} x={percent(value)} height="100%" />
      </svg>
      <span className={styles.passed} role="img" aria-label="passed">
        ✓
      </span>
    </div>
  )
}
