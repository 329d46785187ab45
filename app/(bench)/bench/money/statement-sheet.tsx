import { Notice } from '#app/_ui/notice.tsx'
import { SumLines } from '#app/_ui/sum-lines.tsx'
import { showMoney } from '#kernel/money'
import type { Statement } from '#money/books/books.contract'

/** The account given to the cause: where the variance is, it says so. */
export function StatementSheet({ statement }: { statement: Statement }) {
  const show = (minor: number) => showMoney(minor, statement.currency)
  const { costs } = statement
  const lines: [string, number][] = [
    ['Prices that stand', statement.hammerMinor],
    ['The cause’s share of them', statement.causeShareMinor],
    ['Gifts of money', statement.giftMinor],
    ['Matched giving received', statement.matchedMinor],
    ['Postage charged', statement.postageMinor],
    ['What sending cost so far', statement.sendingCostMinor],
    ['Received in the bank', statement.receivedMinor],
    ['Refunded', statement.refundedMinor],
    ['Unallocated, including what is owed back', statement.unplacedMinor],
    ['Unpaid by buyers', statement.unpaidMinor],
    ['Costs and fees paid by the seller', costs.seller],
    ['Costs and fees paid by the cause', costs.cause],
    ['Costs and fees paid out of postage', costs.postage],
    ['Passed on to the cause', statement.remittedMinor],
    ['Held for the cause, to be passed on', statement.toRemitMinor],
    ['In the bank, by the journal', statement.bankMinor],
  ]
  return (
    <section className="sheet stack" aria-labelledby="statement">
      <h2 id="statement">Statement for {statement.causeName || 'the cause'}</h2>
      {statement.causeRegistration && <p className="quiet">Registered as {statement.causeRegistration}</p>}
      <SumLines
        lines={[
          ...lines.map(([words, minor]) => ({ words, amount: show(minor) })),
          { words: 'Variance', amount: show(statement.varianceMinor), isSum: true },
        ]}
      />
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
      <p className="small quiet">
        The target counts before costs. Local law and the cause’s own rules say what has to be reported, and to whom.
      </p>
    </section>
  )
}
