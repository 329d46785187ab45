import { Chip } from '#app/_ui/chip.tsx'
import type { Currency } from '#kernel/money'
import { shownMoney } from '#kernel/written-amount'
import type { BankPreview } from '#money/bank/bank.contract'

/** Rows beyond these are counted only. */
const MOST_SHOWN = 200

/** The lines of a bank's file as they would be kept, and which of them are here already. */
export function LinesAsRead({ answer, currency }: { answer: BankPreview; currency: Currency }) {
  return (
    <div className="scroll">
      <table className="cards">
        <caption>
          {answer.rows.length === 1 ? 'One line' : `${answer.rows.length} lines`}, {answer.fresh} new
        </caption>
        <thead>
          <tr>
            <th scope="col" className="num">
              Line
            </th>
            <th scope="col">Day</th>
            <th scope="col" className="num">
              {currency}
            </th>
            <th scope="col">What the bank writes</th>
            <th scope="col">Here</th>
          </tr>
        </thead>
        <tbody>
          {answer.rows.slice(0, MOST_SHOWN).map((row) => (
            <tr key={row.line}>
              <th scope="row" className="num">
                {row.line}
              </th>
              <td data-label="Day">{row.on}</td>
              <td data-label={currency} className="num">
                {shownMoney(row.amountMinor, row.currency ?? '', currency)}
                {row.currency && <span className="small quiet"> set aside</span>}
              </td>
              <td data-label="The bank writes" className="small">
                {[row.name, row.words, row.reference].filter(Boolean).join(' · ') || '·'}
              </td>
              <td data-label="Here">{row.isKnown ? 'already' : <Chip tone="copper">New</Chip>}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}
