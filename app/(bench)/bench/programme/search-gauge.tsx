import { type Currency, showMoney } from '#kernel/money'
import type { PlanningView } from '#sale/planning/wish.contract'
import styles from './planner.module.css'

const STATE_WORDS = {
  searching: 'Searching',
  pricing: 'Found and proved the best. Pricing the wishes',
  done: 'Proved the best',
  'nothing-fits': 'Nothing fits',
  stopped: 'Stopped',
  failed: 'It failed. Try again; what it went by is still here',
} as const

/** How near the best plan so far is to what no plan can exceed. The two meet when it is proved. */
export function SearchGauge({ running, currency }: { running: NonNullable<PlanningView['running']>; currency: Currency }) {
  const { state, seconds, bestMinor, boundMinor } = running
  const share = bestMinor !== null && boundMinor !== null && boundMinor > 0 ? Math.max(0, Math.min(1, bestMinor / boundMinor)) : null
  const isOver = state === 'done' || state === 'stopped'
  return (
    <div>
      <p role="status">
        {STATE_WORDS[state]}
        {seconds > 0 && `, ${seconds.toFixed(1)} s`}
        {state === 'searching' || state === 'pricing' ? ' …' : '.'}
      </p>
      {share !== null && (
        <>
          <svg viewBox="0 0 400 16" className={styles.searchLine} aria-hidden="true">
            <path d="M0 8H400" className={styles.searchBound} />
            <path d={`M0 8H${400 * share}`} className={styles.searchBest} />
          </svg>
          <p className="small quiet">
            {share === 1
              ? 'Proved: no plan is better.'
              : `${isOver ? 'Not proved in its time' : 'So far'}: another plan could be better by ${showMoney((boundMinor ?? 0) - (bestMinor ?? 0), currency, { short: true })} at most.`}{' '}
            What counts is money, kept wishes and a day without long silences, in one sum.
          </p>
        </>
      )}
    </div>
  )
}
