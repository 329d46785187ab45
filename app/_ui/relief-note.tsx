import { showMoney } from '#kernel/money'
import type { LotRelief } from '#money/relief/relief.contract'
import styles from './relief-note.module.css'

/** What of a price may be a gift, with its caution and its source beside it. For the buyer and the books, never for donors of goods. */
export function ReliefNote({ relief }: { relief: LotRelief }) {
  const { currency, name, giftMinor, because, duties, cautions, source, trueOn } = relief
  const id = `relief-${relief.country}`
  return (
    <section className="sheet stack close" aria-labelledby={id}>
      <h2 id={id}>Tax relief, an estimate</h2>
      <p>
        {name}: <b>{giftMinor === 0 ? 'no part of the price is a gift' : `${showMoney(giftMinor, currency)} of the price may be a gift`}</b>
        .
      </p>
      <ul className={styles.list}>
        {[...because, ...duties].map((words) => (
          <li key={words}>{words}</li>
        ))}
      </ul>
      <div className={styles.caution}>
        <p>
          <b>Caution</b>
        </p>
        <ul className={styles.list}>
          {cautions.map((words) => (
            <li key={words}>{words}</li>
          ))}
        </ul>
      </div>
      <p className="small quiet">
        Source: {source}. True for: {trueOn}.
      </p>
    </section>
  )
}
