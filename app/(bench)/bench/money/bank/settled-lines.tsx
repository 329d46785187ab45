'use client'

import { api } from '#app/_trpc/client.ts'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import { When } from '#app/_ui/when.tsx'
import type { Currency } from '#kernel/money'
import { shownMoney } from '#kernel/written-amount'
import type { BankLineView } from '#money/bank/bank.contract'
import { useBookForm } from '../use-book-form'

export interface SettledLinesProps {
  lines: BankLineView[]
  currency: Currency
  zone: string
  mayWrite: boolean
}

/** Allocated lines, with what became of them and by whom. */
export function SettledLines({ lines, currency, zone, mayWrite }: SettledLinesProps) {
  return (
    <section className="stack" aria-labelledby="settled">
      <h2 id="settled">Allocated lines</h2>
      <table className="cards">
        <caption className="visually-hidden">Allocated lines, the latest first</caption>
        <thead>
          <tr>
            <th scope="col">Day</th>
            <th scope="col">What the bank writes</th>
            <th scope="col" className="num">
              {currency}
            </th>
            <th scope="col">What it is</th>
            <th scope="col">By whom</th>
            {mayWrite && <th scope="col">If it is wrong</th>}
          </tr>
        </thead>
        <tbody>
          {lines.map((line) => (
            <tr key={line.id}>
              <th scope="row">
                {line.on}
                {line.valueOn !== null && <div className="small quiet">counts from {line.valueOn}</div>}
              </th>
              <td data-label="The bank writes" className="small">
                {[line.name, line.words, line.reference].filter(Boolean).join(' · ') || '·'}
              </td>
              <td data-label={currency} className="num">
                {shownMoney(line.amountMinor, line.currency ?? '', currency)}
              </td>
              <td data-label="What it is">
                <span>
                  {line.state === 'set aside'
                    ? `Not ours: ${line.why}`
                    : line.became.map(({ memo, isTakenBack }) => `${memo}${isTakenBack ? ' (reversed)' : ''}`).join('; ')}
                </span>
              </td>
              <td data-label="By whom" className="small">
                <span>
                  {line.settledBy}, {line.settledAt !== null && <When at={line.settledAt} zone={zone} brief />}
                </span>
              </td>
              {mayWrite && <td>{line.currency === null && <Reopen line={line} />}</td>}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}

function Reopen({ line }: { line: BankLineView }) {
  const { key, run, ...form } = useBookForm(api.bank.reopen.mutate)
  return (
    <ConfirmButton
      {...form}
      title="Put this line back on the list?"
      undoes={<p>Whatever was booked for it is reversed by further entries; nothing in the journal is changed or lost.</p>}
      fields={<TextField name="why" label="What was wrong" />}
      confirm="Reverse it"
      run={(values) => run({ key, lineId: line.id, why: values.text('why') })}
    >
      Reverse…
    </ConfirmButton>
  )
}
