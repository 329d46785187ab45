import type { Currency } from '#kernel/money'
import { showMoney } from '#kernel/money'
import type { History } from '#sale/history/history.contract'
import { classes } from './classes'
import styles from './price-path.module.css'
import { type PricePath, pricePathOf, sayPath } from './price-path.rules'

const [WIDTH, HEIGHT, LEFT, RIGHT, TOP, BOTTOM] = [740, 300, 76, 84, 20, 34]

/** Who won and at what, in a sentence, and the price path that led there. */
export function PricePathTold({ history }: { history: History }) {
  const path = pricePathOf(history)
  const show = (amount: number) => showMoney(amount, history.currency)
  return (
    <>
      <p>
        {path.winner !== null && path.hammerMinor !== null
          ? `The winner is ${path.winner}, at ${show(path.hammerMinor)}.`
          : sayPath(path, show)}
      </p>
      <PricePathPicture path={path} currency={history.currency} />
    </>
  )
}

/** The price path as a picture: a stair of standing bids, an open ring for each maximum once it is opened, the reserve as a broken line. */
export function PricePathPicture({ path, currency }: { path: PricePath; currency: Currency }) {
  const { points, bids, reserveMinor, topMinor, openingMinor, hammerMinor, winner } = path
  const show = (amount: number) => showMoney(amount, currency, { short: true })
  if (points.length === 0) return <p className="quiet">Nobody bid, so there is no price path.</p>
  const x = (place: number) => LEFT + ((place + 0.5) / points.length) * (WIDTH - LEFT - RIGHT)
  const y = (amount: number) => HEIGHT - BOTTOM - (amount / (topMinor * 1.06)) * (HEIGHT - TOP - BOTTOM)
  const drawn = points.filter(({ kind }) => kind === 'bid').length
  const half = (WIDTH - LEFT - RIGHT) / points.length / 2
  const stair = points.map(({ standingMinor }, place) => {
    const at = y(standingMinor ?? 0)
    return `${place === 0 ? 'M' : 'L'} ${x(place) - half} ${at} L ${x(place) + half} ${at}`
  })
  const levels = [openingMinor, ...(hammerMinor === null ? [] : [hammerMinor]), topMinor].filter((level, index, all) =>
    all.slice(0, index).every((other) => Math.abs(y(other) - y(level)) > 18),
  )
  return (
    <figure className={styles.figure}>
      <svg
        className={classes(styles.picture, points.length > 12 && styles.many)}
        viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
        role="img"
        aria-label={sayPath(path, show)}
      >
        {levels.map((level) => (
          <g key={level}>
            <line x1={LEFT} x2={WIDTH - RIGHT} y1={y(level)} y2={y(level)} className={styles.grid} />
            <text x={LEFT - 8} y={y(level) + 5} textAnchor="end" className={styles.amount}>
              {show(level)}
            </text>
          </g>
        ))}
        {reserveMinor !== null && (
          <g>
            <line x1={LEFT} x2={WIDTH - RIGHT} y1={y(reserveMinor)} y2={y(reserveMinor)} className={styles.reserve} />
            <text x={WIDTH - RIGHT + 4} y={y(reserveMinor) + 5} className={styles.amount}>
              reserve
            </text>
          </g>
        )}
        <path d={stair.join(' ')} className={styles.stair} />
        {points.map(({ entry, maximumMinor, alias, kind, standingMinor }, place) => (
          <g key={entry}>
            {maximumMinor !== null && (
              <>
                <line x1={x(place)} x2={x(place)} y1={y(standingMinor ?? 0)} y2={y(maximumMinor)} className={styles.stem} />
                <circle cx={x(place)} cy={y(maximumMinor)} r={6} className={styles.maximum} />
              </>
            )}
            {kind === 'bid' && maximumMinor === null && (
              <rect x={x(place) - 5} y={TOP - 6} width={10} height={10} className={styles.sealed} />
            )}
            {kind !== 'end' && (points.length <= 24 || place === points.length - 1) && (
              <text x={x(place)} y={HEIGHT - 12} textAnchor="middle" className={styles.alias}>
                {kind === 'voided' ? `−${alias}` : alias}
              </text>
            )}
          </g>
        ))}
        {winner && <circle cx={x(points.length - 1)} cy={y(hammerMinor ?? 0)} r={8} className={styles.hammer} />}
      </svg>
      <figcaption className={styles.caption}>
        The stair is the standing bid, under it who bid. A ring is a maximum, opened after the end; a square is one that is sealed.
        {drawn < bids && ` Of ${bids} bids ${drawn} are drawn.`}
      </figcaption>
    </figure>
  )
}
