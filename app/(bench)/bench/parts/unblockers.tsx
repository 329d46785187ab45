import Link from 'next/link'
import { listWords } from '../../../../server/donors/gift.rules'
import type { ShortPart } from '../../../../server/parts/shortfall.service'
import styles from './parts.module.css'

const MOST = 10

/**
 * What would unblock most: a bar for each part, as long as the number of units that wait for it; solid for
 * those that it alone would free, hatched for those that lack something else as well.
 */
export function Unblockers({ parts, waiting }: { parts: readonly ShortPart[]; waiting: number }) {
  const shown = parts.slice(0, MOST)
  const most = Math.max(1, waiting, ...shown.map((row) => row.waiting.length))
  const share = (count: number) => `${(100 * count) / most}%`
  return (
    <section className="sheet stack" aria-labelledby="unblock">
      <h2 id="unblock">What would unblock most</h2>
      <p className="small quiet">
        <span className={styles.keySolid} aria-hidden="true" /> units it alone would free{' '}
        <span className={styles.keyHatched} aria-hidden="true" /> units that lack something else as well
      </p>
      <ol className={`plain-list ${styles.bars}`}>
        {shown.map(({ part, short, waiting: tags, frees, promised }) => {
          const coming = promised.reduce((sum, line) => sum + line.quantity, 0)
          return (
            <li key={part.id} className={styles.bar}>
              <div className={styles.what}>
                <Link href={`/bench/parts/${part.id}`}>{part.words}</Link>
                <span className="small">
                  {' '}
                  <b className={styles.short}>{short} short</b>
                  {promised.length > 0 &&
                    `; ${coming} promised by ${listWords([...new Set(promised.map((line) => line.donorName))], 'and')}`}
                </span>
              </div>
              <div className={styles.track} aria-hidden="true">
                <span className={styles.solid} style={{ width: share(frees.length) }} />
                <span className={styles.hatched} style={{ width: share(tags.length - frees.length) }} />
              </div>
              <p className="small">
                {frees.length > 0 ? (
                  <>
                    would free <b>{listWords(frees, 'and')}</b>
                  </>
                ) : (
                  <span className="quiet">
                    frees nothing alone; {tags.length === 1 ? `${tags[0]} waits` : `${tags.length} units wait`} for it too
                  </span>
                )}
              </p>
            </li>
          )
        })}
      </ol>
    </section>
  )
}
