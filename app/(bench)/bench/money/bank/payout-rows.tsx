import { SelectField } from '#app/_ui/forms/text-fields.tsx'
import { showMoney } from '#kernel/money'
import type { BankDesk } from '#money/bank/bank.contract'
import type { PayoutPlace, PayoutPreview } from '#money/bank/payout.contract'

export interface PayoutRowsProps {
  answer: PayoutPreview
  lots: BankDesk['lots']
  /** Null leaves it to the row's own words. */
  onPlace(line: number, to: number | 'unplaced' | null): void
}

const placeWords = (place: PayoutPlace | null): string => {
  switch (place?.to) {
    case 'lot':
      return `Payment of lot ${place.lot}, ${place.buyer}`
    case 'back':
      return `Back to ${place.buyer} for lot ${place.lot}`
    case 'unplaced':
      return 'Unallocated'
    case 'fee':
      return 'A fee alone'
    default:
      return 'No place yet'
  }
}

/** Each row of a payout with its three amounts, and what it would be booked as. */
export function PayoutRows({ answer, lots, onPlace }: PayoutRowsProps) {
  const show = (minor: number) => showMoney(minor, answer.currency)
  return (
    <table className="cards">
      <caption>{answer.rows.length === 1 ? 'One row' : `${answer.rows.length} rows`}</caption>
      <thead>
        <tr>
          <th scope="col">Row</th>
          <th scope="col" className="num">
            Gross
          </th>
          <th scope="col" className="num">
            Fee
          </th>
          <th scope="col" className="num">
            Net
          </th>
          <th scope="col">What it is</th>
        </tr>
      </thead>
      <tbody>
        {answer.rows.map(({ line, grossMinor, feeMinor, netMinor, name, reference, place, why }) => {
          const own = answer.flaws.filter((flaw) => flaw.line === line)
          return (
            <tr key={line}>
              <th scope="row">
                {line}
                <div className="small quiet">{[name, reference].filter(Boolean).join(' · ')}</div>
              </th>
              <td data-label="Gross" className="num">
                {show(grossMinor)}
              </td>
              <td data-label="Fee" className="num">
                {show(feeMinor)}
              </td>
              <td data-label="Net" className="num">
                {show(netMinor)}
              </td>
              <td data-label="What it is">
                <div>
                  {placeWords(place)} <span className="small quiet">{why}</span>
                  {own.map(({ column, words }) => (
                    <p key={`${column} ${words}`} className="small">
                      <b>{words}</b>
                    </p>
                  ))}
                  {grossMinor !== 0 && (
                    <SelectField
                      name={`row-${line}`}
                      label={`Row ${line} goes to`}
                      defaultValue=""
                      onChange={(event) => {
                        const chosen = event.currentTarget.value
                        onPlace(line, chosen === '' ? null : chosen === 'unplaced' ? 'unplaced' : Number(chosen))
                      }}
                      options={[
                        { value: '', label: 'What its words say' },
                        ...lots.map(({ lot, title, buyer }) => ({ value: String(lot), label: `Lot ${lot}: ${title}, ${buyer}` })),
                        ...(grossMinor > 0 ? [{ value: 'unplaced', label: 'Unallocated' }] : []),
                      ]}
                    />
                  )}
                </div>
              </td>
            </tr>
          )
        })}
      </tbody>
    </table>
  )
}
