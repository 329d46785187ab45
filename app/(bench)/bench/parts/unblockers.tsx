import Link from 'next/link'
import { Unbroken } from '#app/_ui/unbroken.tsx'
import type { BuildPage } from '#bench/buildable/build.service'
import { listWords } from '#stock/donors/gift.rules'
import styles from './unblockers.module.css'

/**
 * What would unblock most: a bar for each part, as long as the number of units that wait for it; solid for
 * those that it alone would free, hatched for those that lack something else as well.
 */
export function Unblockers({ parts, waiting }: { parts: BuildPage['unblockers']; waiting: number }) {
  const most = Math.max(1, waiting, ...parts.map((row) => row.waiting.length))
  const share = (count: number) => `${(100 * count) / most}%`
  return (
    <section className="sheet stack" aria-labelledby="unblock">
      <h2 id="unblock">What would unblock most</h2>
      <p className="small quiet">
        <span className={styles.keySolid} aria-hidden="true" /> units it would free on its own{' '}
        <span className={styles.keyHatched} aria-hidden="true" /> units that are short of something else too
      </p>
      <ol className={`plain-list ${styles.bars}`}>
        {parts.map(({ part, short, waiting: tags, gain, frees, coming }) => (
          <li key={part.id} className={styles.bar}>
            <div>
              <Link href={`/bench/parts/${part.id}`}>{part.words}</Link>
              <span className="small">
                {' '}
                <b className="amiss">{short} short</b>
                <Unbroken>
                  {coming
                    .map(({ donorName, quantity, isOnItsWay, expectedOn }) => {
                      const whose = `${isOnItsWay ? 'on the way from' : 'promised by'} ${donorName}`
                      return `; ${quantity} ${whose}${expectedOn ? `, expected ${expectedOn}` : ''}`
                    })
                    .join('')}
                </Unbroken>
              </span>
            </div>
            <div className={styles.track} aria-hidden="true">
              <span className={styles.solid} style={{ width: share(gain) }} />
              <span className={styles.hatched} style={{ width: share(Math.max(0, tags.length - gain)) }} />
            </div>
            <p className="small">
              {gain > 0 ? (
                <>
                  would free{' '}
                  <b>
                    {frees.length > 6
                      ? `${gain} units`
                      : frees.length === gain
                        ? listWords(frees, 'and')
                        : `${gain} of ${listWords(frees, 'and')}`}
                  </b>
                </>
              ) : (
                <span className="quiet">
                  frees nothing on its own; {tags.length === 1 ? `${tags[0]} waits` : `${tags.length} units wait`} for it too
                </span>
              )}
            </p>
          </li>
        ))}
      </ol>
    </section>
  )
}
