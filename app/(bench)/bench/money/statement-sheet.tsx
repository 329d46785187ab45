import { showMoney } from '../../../../server/kernel/money'
import type { Statement } from '../../../../server/money/books.contract'
import { Notice } from '../../../_ui/notice'
import styles from './money.module.css'

/** The account given to the cause, in its first form: where the variance is, it says so. */
export function StatementSheet({ statement }: { statement: Statement }) {
  const show = (minor: number) => showMoney(minor, statement.currency)
  const lines: [string, number][] = [
    ['Hammer prices', statement.hammerMinor],
    ['The cause’s share of them', statement.causeShareMinor],
    ['Gifts of money', statement.giftMinor],
    ['Postage charged', statement.postageMinor],
    ['Received in the bank', statement.receivedMinor],
    ['Unpaid by buyers', statement.unpaidMinor],
    ['Sent on to the cause', statement.remittedMinor],
    ['Held for the cause, to send on', statement.toRemitMinor],
  ]
  return (
    <section className="sheet stack" aria-labelledby="statement">
      <h2 id="statement">Statement for {statement.causeName || 'the cause'}</h2>
      {statement.causeRegistration && <p className="quiet">Registered as {statement.causeRegistration}</p>}
      <dl className={styles.sums}>
        {lines.map(([words, minor]) => (
          <Line key={words} words={words} amount={show(minor)} />
        ))}
        <dt className={styles.sum}>Variance</dt>
        <dd className={styles.sum}>{show(statement.varianceMinor)}</dd>
      </dl>
      {statement.varianceAt.length === 0 ? (
        <p className="small quiet">The journal agrees with the sale, and the bank with the journal.</p>
      ) : (
        <Notice tone="bad" title="The books do not agree">
          <ul>
            {statement.varianceAt.map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
        </Notice>
      )}
      <p className="small quiet">Before costs. What has to be reported, and to whom, is for local law and the cause’s own rules.</p>
    </section>
  )
}

function Line({ words, amount }: { words: string; amount: string }) {
  return (
    <>
      <dt>{words}</dt>
      <dd>{amount}</dd>
    </>
  )
}
