import { Chip } from '#app/_ui/chip.tsx'
import { TextButton } from '#app/_ui/text-button.tsx'
import type { Look, Outcome } from '#bench/faults/fault.contract'
import { oddsWords, percent } from '#bench/faults/odds.rules'
import styles from './fault.module.css'

const FIRST = 6

export interface LooksProps {
  looks: readonly Look[]
  at: string | null
  choose: ((key: string) => void) | null
  /** Enough is known for two digits; until then odds are said in words. */
  hasFigures: boolean
}

/** Checks not yet made: what each would tell in how many minutes, best first; those that wait, and those that tell nothing, last with the reason. */
export function Looks({ looks, at, choose, hasFigures }: LooksProps) {
  const tells = looks.filter(({ is }) => is === 'tells')
  const waits = looks.filter(({ is }) => is === 'waits')
  const nothing = looks.filter(({ is }) => is === 'nothing')
  return (
    <section className="sheet stack" aria-labelledby="looks">
      <h2 id="looks">Checks by what a minute on them tells you</h2>
      <p className="small quiet">
        In bits: one bit halves the doubt. Each check has a minute added for getting at it. A check that must come first for safety counts
        with what it opens.
      </p>
      {tells.length === 0 ? (
        <p>No check you can make now tells you anything more.</p>
      ) : (
        <Ranking looks={tells.slice(0, FIRST)} at={at} choose={choose} hasFigures={hasFigures} />
      )}
      {tells.length > FIRST && (
        <details>
          <summary>{tells.length - FIRST} more that tell you less</summary>
          <Ranking looks={tells.slice(FIRST)} at={at} choose={choose} hasFigures={hasFigures} />
        </details>
      )}
      {waits.length > 0 && <Reasons title="Would tell you something, but have to wait" looks={waits} />}
      {nothing.length > 0 && <Reasons title="Tell you nothing now" looks={nothing} />}
    </section>
  )
}

function Ranking({ looks, at, choose, hasFigures }: LooksProps) {
  return (
    <table className={`cards ${styles.ranking}`}>
      <caption className="visually-hidden">Checks, the most telling first</caption>
      <thead>
        <tr>
          <th scope="col">Check</th>
          <th scope="col" className="num">
            Minutes
          </th>
          <th scope="col" className="num">
            Bits
          </th>
          <th scope="col">How it would split the suspicion</th>
        </tr>
      </thead>
      <tbody>
        {looks.map((look) => (
          <tr key={look.check}>
            <th scope="row">
              <span className="code">{look.check}</span>{' '}
              {choose && look.check !== at ? <TextButton press={() => choose(look.check)}>{look.title}</TextButton> : look.title}
              {look.check === at && choose && <span className={styles.here}> to hand</span>}
              <span className="under">
                {look.isPowered ? 'powered' : 'power off'}, {look.limits}
                {look.opens !== null && `; opens the way to ${look.opens}`}
              </span>
            </th>
            <td className="num" data-label="Minutes">
              {look.minutes}
            </td>
            <td className="num" data-label="Bits">
              {look.bits.toFixed(2)}
              <span className="under">{look.rate.toFixed(2)} a minute</span>
            </td>
            <td data-label="Split">
              <Split look={look} say={hasFigures ? percent : oddsWords} />
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

/** The bar is one whole: hatched what would fail, plain what would pass. The words below say the same. */
function Split({ look, say }: { look: Look; say(share: number): string }) {
  const fails = Math.round(look.fails * 100)
  return (
    <div className={styles.split}>
      <svg viewBox="0 0 100 8" preserveAspectRatio="none" aria-hidden="true" className={styles.bar}>
        <rect className={styles.passes} x="0" y="0" width="100" height="8" />
        <rect className={styles.fails} x="0" y="0" width={fails} height="8" />
      </svg>
      <Side word="fails" outcome={look.failing} say={say} />
      <Side word="passes" outcome={look.passing} say={say} />
    </div>
  )
}

function Side({ word, outcome, say }: { word: string; outcome: Outcome; say(share: number): string }) {
  if (outcome.chance < 0.005) return null
  return (
    <span className="small">
      <b>
        {word}: {say(outcome.chance)}
      </b>
      , then {outcome.suspects.map(({ block, share }) => `${block} ${say(share)}`).join(', ')}
    </span>
  )
}

function Reasons({ title, looks }: { title: string; looks: readonly Look[] }) {
  return (
    <div>
      <h3>
        {title} <Chip>{looks.length}</Chip>
      </h3>
      <ul className={styles.reasons}>
        {looks.map(({ check, title: what, why }) => (
          <li key={check}>
            <span className="code">{check}</span> {what}: <span className="quiet">{why}</span>
          </li>
        ))}
      </ul>
    </div>
  )
}
