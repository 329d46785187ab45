import { type Currency, showMoney } from '#kernel/money'
import type { LedgerLine } from '#money/books/ledger.rules'

/** One account in the order of the journal, with what it stands at after each entry. */
export function LedgerTable({ lines, currency, name }: { lines: readonly LedgerLine[]; currency: Currency; name: string }) {
  return (
    <div className="scroll">
      <table className="cards">
        <caption>Account: {name}, in the order of the journal</caption>
        <thead>
          <tr>
            <th scope="col">What</th>
            <th scope="col" className="num">
              Day
            </th>
            <th scope="col" className="num">
              Lot
            </th>
            <th scope="col" className="num">
              Amount, {currency}
            </th>
            <th scope="col" className="num">
              Balance
            </th>
          </tr>
        </thead>
        <tbody>
          {lines.map(({ entry, amountMinor, balanceMinor }) => (
            <tr key={entry.id}>
              <th scope="row">
                {entry.memo}
                {entry.reference && <div className="small quiet">{entry.reference}</div>}
              </th>
              <td data-label="Day" className="num">
                {entry.valueOn}
              </td>
              <td data-label="Lot" className="num">
                {entry.lot ?? ''}
              </td>
              <td data-label="Amount" className="num">
                {showMoney(amountMinor, currency)}
              </td>
              <td data-label="Balance" className="num">
                {showMoney(balanceMinor, currency)}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}
