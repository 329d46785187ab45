import { LOT_HEADS, type TableOfLots } from '#end/statement/statement-words.rules'
import { type Currency, showMoney } from '#kernel/money'
import styles from './statement.module.css'

/** A row for each sold lot, with its amounts side by side. */
export function LotTable({ table, currency }: { table: TableOfLots; currency: Currency }) {
  return (
    <div className="scroll">
      <table className="cards">
        <caption>Lots, {currency}</caption>
        <thead>
          <tr>
            <th scope="col">Lot</th>
            <th scope="col">Reference</th>
            {LOT_HEADS.map((head) => (
              <th key={head} scope="col" className="num">
                {head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {table.rows.map(({ lot, unit, reference, minors }) => (
            <tr key={lot}>
              <th scope="row">
                Lot {lot} <span className="code">{unit}</span>
              </th>
              <td data-label="Reference" className="digest">
                {reference}
              </td>
              <Amounts minors={minors} currency={currency} />
            </tr>
          ))}
          <tr className={styles.total}>
            <th scope="row">Together</th>
            <td />
            <Amounts minors={table.totals} currency={currency} />
          </tr>
        </tbody>
      </table>
    </div>
  )
}

const Amounts = ({ minors, currency }: { minors: readonly number[]; currency: Currency }) =>
  LOT_HEADS.map((head, index) => (
    <td key={head} data-label={head} className="num">
      {showMoney(minors[index] ?? 0, currency)}
    </td>
  ))
