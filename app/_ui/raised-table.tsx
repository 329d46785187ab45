import Link from 'next/link'
import { type Currency, showMoney } from '#kernel/money'

/** One thing that counts: what of it is only bid, and what was raised, or that in its states. */
export interface RaisedRow {
  of: 'lot' | 'gifts' | 'matched'
  lot: number | null
  words: string
  bidMinor: number
}

interface RaisedTableProps<Row extends RaisedRow> {
  rows: readonly Row[]
  currency: Currency
  /** The columns besides that of bids, with what each shows of a row. */
  columns: readonly (readonly [head: string, minor: (row: Row) => number])[]
  /** Where a row leads, if anywhere. */
  href(row: Row): string | null
}

/** What the meter is made of. Each column adds up to what the meter says. */
export function RaisedTable<Row extends RaisedRow>({ rows, currency, columns, href }: RaisedTableProps<Row>) {
  const all = [['In bids', (row: Row) => row.bidMinor] as const, ...columns]
  const show = (minor: number) => showMoney(minor, currency)
  const total = (minor: (row: Row) => number) => rows.reduce((sum, row) => sum + minor(row), 0)
  return (
    <div className="scroll">
      <table className="cards">
        <caption>What it is made of, {currency}. Of each lot, what the cause has of it.</caption>
        <thead>
          <tr>
            <th scope="col">From</th>
            {all.map(([head]) => (
              <th key={head} scope="col" className="num">
                {head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.lot ?? row.of}>
              <th scope="row">
                <RowName row={row} href={href(row)} />
              </th>
              {all.map(([head, minor]) => (
                <td key={head} data-label={head} className="num">
                  {show(minor(row))}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
        <tfoot>
          <tr>
            <th scope="row">Together</th>
            {all.map(([head, minor]) => (
              <td key={head} data-label={head} className="num">
                {show(total(minor))}
              </td>
            ))}
          </tr>
        </tfoot>
      </table>
    </div>
  )
}

function RowName({ row, href }: { row: RaisedRow; href: string | null }) {
  const name = row.lot === null ? row.words : `Lot ${row.lot}`
  return (
    <>
      {href === null ? (
        name
      ) : (
        <Link prefetch={false} href={href}>
          {name}
        </Link>
      )}
      {row.lot !== null && <div className="small quiet">{row.words}</div>}
    </>
  )
}
