import type { AccountPart } from '#end/statement/account.contract'
import { type Currency, showMoney } from '#kernel/money'
import styles from './statement.module.css'

/** One part of the account: its lines, and their total. Columns in which no line has anything are left out. */
export function PartTable({ part, currency }: { part: AccountPart; currency: Currency }) {
  const hasLots = part.lines.some(({ lot }) => lot !== null)
  const hasPaper = part.lines.some(({ day, reference }) => day !== '' || reference !== '')
  return (
    <div className="scroll">
      <table className="cards">
        <caption>
          {part.title}, {currency}
        </caption>
        <thead>
          <tr>
            <th scope="col">What</th>
            {hasLots && (
              <th scope="col" className="num">
                Lot
              </th>
            )}
            {hasPaper && <th scope="col">Day</th>}
            {hasPaper && <th scope="col">Reference</th>}
            <th scope="col" className="num">
              Amount
            </th>
          </tr>
        </thead>
        <tbody>
          {part.lines.map(({ what, lot, day, reference, minor }, index) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: lines of a part have no name but their place in it.
            <tr key={index}>
              <th scope="row">{what}</th>
              {hasLots && (
                <td data-label="Lot" className="num">
                  {lot}
                </td>
              )}
              {hasPaper && <td data-label="Day">{day}</td>}
              {hasPaper && (
                <td data-label="Reference" className="digest">
                  {reference}
                </td>
              )}
              <td data-label="Amount" className="num">
                {showMoney(minor, currency)}
              </td>
            </tr>
          ))}
          <tr className={styles.total}>
            <th scope="row">Together</th>
            {hasLots && <td />}
            {hasPaper && <td />}
            {hasPaper && <td />}
            <td data-label="Amount" className="num">
              {showMoney(part.totalMinor, currency)}
            </td>
          </tr>
        </tbody>
      </table>
    </div>
  )
}
