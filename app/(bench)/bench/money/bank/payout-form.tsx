'use client'

import { useRef, useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import { SumLines } from '#app/_ui/sum-lines.tsx'
import { When } from '#app/_ui/when.tsx'
import { ColumnChooser } from '#app/(bench)/bench/designs/import/column-chooser.tsx'
import { ListField } from '#app/(bench)/bench/designs/import/list-field.tsx'
import { showMoney } from '#kernel/money'
import type { TableChoice } from '#kernel/table-in'
import type { BankLineView } from '#money/bank/bank.contract'
import type { PayoutPreview } from '#money/bank/payout.contract'
import { PAYOUT_COLUMNS } from '#money/bank/payout-file.rules'
import type { CostBearer } from '#money/journal/journal.rules'
import { useBookForm } from '../use-book-form'
import { FileFlaws } from './file-flaws'
import { PayoutRows } from './payout-rows'
import { Bearer, type DeskFor } from './place-form'

type Source = { name: string; base64?: string; text?: string }
type Choice = TableChoice & { afresh?: boolean; places?: { line: number; to: number | 'unplaced' }[] }

/** A card processor's list of sales and fees against one line of the bank: shown first, row by row, then booked whole. */
export function PayoutForm({ line, desk }: { line: BankLineView; desk: DeskFor }) {
  const look = useCommand(api.bank.previewPayout.mutate)
  const { key, ...book } = useBookForm(api.bank.bookPayout.mutate)
  const file = useRef<{ name: string; base64: string } | undefined>(undefined)
  const [seen, setSeen] = useState<{
    source: Source
    choice: Choice
    answer: PayoutPreview
    remembered: PayoutPreview['remembered']
  } | null>(null)
  const isReady = seen !== null && seen.answer.flaws.length === 0
  const show = (minor: number) => showMoney(minor, desk.currency)
  const list = `payout-${line.id}`

  const read = async (source: Source, choice: Choice): Promise<void> => {
    const answer = await look.run({ ...source, ...choice, lineId: line.id })
    if (!answer) return
    // What is remembered of this processor is from now on a choice like any other, which the next one changes.
    const kept = answer.remembered ?? (source === seen?.source ? seen.remembered : null)
    setSeen({ source, choice: { ...choice, ...answer.remembered?.choice }, answer, remembered: kept })
  }
  const place = (at: number, to: number | 'unplaced' | null) => {
    if (!seen) return
    const others = (seen.choice.places ?? []).filter((one) => one.line !== at)
    void read(seen.source, { ...seen.choice, places: to === null ? others : [...others, { line: at, to }] })
  }
  return (
    <CommandForm
      label="A card processor’s payout"
      pending={look.pending || book.pending}
      refusal={look.refusal ?? book.refusal}
      onDone={book.onDone}
      run={async (form) => {
        const text = form.text(list)
        const source: Source = text.trim() === '' ? (file.current ?? { name: '', text: '' }) : { name: 'pasted', text }
        const isSame = seen !== null && JSON.stringify(source) === JSON.stringify(seen.source)
        if (!isReady || !isSame || !seen) {
          book.forget()
          await read(source, isSame && seen ? seen.choice : {})
          return undefined
        }
        const bearer = form.text('bearer') as CostBearer
        return book.run({ ...source, ...seen.choice, key, lineId: line.id, processor: form.text('processor'), bearer })
      }}
    >
      <ListField
        list={list}
        label="Sales of this payout"
        hint="a list of sales (CSV) with gross, fee and net, or two of them, and reference, name, currency, date where it has them"
        onFile={(chosen) => {
          file.current = chosen
          setSeen(null)
        }}
      />
      {seen && (
        <div className="stack" role="status">
          {seen.remembered && (
            <p>
              Read like the last list of {seen.remembered.processor}, <When at={seen.remembered.at} zone={desk.zone} brief />. What you
              change is remembered instead.
            </p>
          )}
          {seen.answer.table.columns.length > 0 && (
            <ColumnChooser
              sheet={{ list, ...seen.answer.table }}
              wanted={PAYOUT_COLUMNS.map(({ name }) => name)}
              choice={seen.choice}
              onChoose={(choice) => void read(seen.source, { ...seen.choice, ...choice })}
            />
          )}
          {seen.answer.table.columns.some(({ column, guess }) => column !== null && guess !== null) && (
            <p>
              <b>Guessed, so check it:</b>{' '}
              {seen.answer.table.columns
                .flatMap(({ heading, column, guess }) =>
                  column !== null && guess !== null ? [`“${heading}” was taken for the ${column}, because ${guess}`] : [],
                )
                .join('; ')}
              .
            </p>
          )}
          {seen.answer.rows.length > 0 && <PayoutRows answer={seen.answer} lots={desk.lots} onPlace={place} />}
          {seen.answer.rows.length > 0 && (
            <SumLines
              lines={[
                { words: 'Sales', amount: show(seen.answer.grossMinor) },
                { words: 'Fees that were kept', amount: show(-seen.answer.feeMinor) },
                { words: 'The rows come to', amount: show(seen.answer.netMinor), isSum: true },
                { words: 'The bank’s line', amount: show(seen.answer.lineMinor) },
              ]}
            />
          )}
          {seen.answer.flaws.length > 0 && <FileFlaws title="Why it cannot be booked yet" flaws={seen.answer.flaws} />}
        </div>
      )}
      {isReady && (
        <>
          <TextField
            name="processor"
            label="Who took the payments and kept the fees"
            {...(seen.remembered && { defaultValue: seen.remembered.processor })}
          />
          <Bearer name="bearer" {...(seen.remembered && { defaultValue: seen.remembered.bearer })} />
        </>
      )}
      <div>
        <SubmitButton kind="line">{isReady ? 'Book the payout' : 'Show how it is read'}</SubmitButton>
      </div>
    </CommandForm>
  )
}
