import Link from 'next/link'
import type { SearchView, Suspect } from '#bench/faults/fault.contract'
import { oddsWords, percent } from '#bench/faults/odds.rules'
import { BlockShades } from './block-shades'
import styles from './fault.module.css'

const FIRST = 6

/** Who is suspected, as a shaded picture of what feeds what and as figures. */
export function Suspects({ search, isMaker }: { search: SearchView; isMaker: boolean }) {
  const { suspects, pairs, blocks, feeds, design, hasFigures } = search
  const expected =
    suspects.reduce((sum, { share, minutes }) => sum + share * minutes, 0) /
    Math.max(
      1,
      suspects.reduce((sum, { share }) => sum + share, 0),
    )
  return (
    <section className="sheet stack" aria-labelledby="suspects">
      <h2 id="suspects">Suspects</h2>
      <BlockShades blocks={blocks} feeds={feeds} suspects={suspects} hasFigures={hasFigures} />
      {pairs.length > 0 && (
        <div>
          <h3>Pairs that explain it</h3>
          <ul className={styles.reasons}>
            {pairs.map(({ blocks: both, share }) => (
              <li key={both.join()}>
                {both.join(' and ')} {hasFigures && <span className="num">{percent(share)}</span>}
              </li>
            ))}
          </ul>
        </div>
      )}
      <Figures suspects={suspects.slice(0, FIRST)} hasFigures={hasFigures} />
      <details>
        <summary>The other {suspects.length - FIRST} blocks</summary>
        <Figures suspects={suspects.slice(FIRST)} hasFigures={hasFigures} />
      </details>
      {!hasFigures && (
        <p className="small quiet">
          In words, since too few faults of this design have been closed for figures: what each check catches is assumed so far.
        </p>
      )}
      <p className="small quiet">
        Finding and mending it takes about {Math.round(expected)} minutes, going by closed faults. Before any check, blocks are suspected by
        their parts, batches, fresh joints and closed faults.{' '}
        <Link href={`/bench/designs/${design.id}/catches`}>
          {isMaker ? 'See or set what each check catches' : 'See what each check catches'}
        </Link>
      </p>
    </section>
  )
}

function Figures({ suspects, hasFigures }: { suspects: readonly Suspect[]; hasFigures: boolean }) {
  const say = hasFigures ? percent : oddsWords
  const column = hasFigures ? 'num' : undefined
  return (
    <table>
      <caption className="visually-hidden">Suspected blocks</caption>
      <thead>
        <tr>
          <th scope="col">Block</th>
          <th scope="col" className={column}>
            Now
          </th>
          <th scope="col" className={column}>
            Before
          </th>
          <th scope="col" className="num">
            min
          </th>
        </tr>
      </thead>
      <tbody>
        {suspects.map(({ block, share, prior, reasons, minutes, closedHere }) => (
          <tr key={block}>
            <th scope="row">
              {block}
              {(reasons.length > 0 || closedHere > 0) && (
                <span className="under">
                  {[
                    ...reasons,
                    ...(closedHere > 0 ? [`${closedHere === 1 ? 'a closed fault was' : `${closedHere} closed faults were`} here`] : []),
                  ].join('; ')}
                </span>
              )}
            </th>
            <td className={column}>{say(share)}</td>
            <td className={column}>{say(prior)}</td>
            <td className="num">{minutes}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
