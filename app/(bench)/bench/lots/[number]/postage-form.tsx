'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { MoneyField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { type Currency, plainMoney } from '#kernel/money'
import { linesForLot } from '#money/sending/bands.rules'
import type { Band } from '#money/sending/sending.contract'
import { showGrams } from '#money/sending/weight.rules'
import type { Postage } from '#sale/lots/lots.contract'
import { showCountries } from '#sale/lots/postage.rules'
import styles from './prepare.module.css'

const MOST_LINES = 12

export interface PostageFormProps {
  lot: number
  postage: Postage[]
  currency: Currency
  /** The campaign's table, and what the carrier will charge this lot for; null while it is not weighed. */
  table: { bands: Band[]; chargeableGrams: number | null }
}

/** Where it can be sent and for how much: one line for each way, by hand or out of the campaign's table. */
export function PostageForm({ lot, postage: kept, currency, table }: PostageFormProps) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.lots.savePostage.mutate)
  const [postage, setPostage] = useState(kept)
  const [filled, setFilled] = useState(0)
  const [lines, setLines] = useState(Math.max(2, kept.length))
  const { bands, chargeableGrams } = table
  const fill = (grams: number) => {
    const found = linesForLot(bands, grams)
    setPostage(found.lines)
    setLines(Math.max(2, found.lines.length))
    setFilled(filled + 1)
    setLeftOut(found.tooHeavyFor)
  }
  const [leftOut, setLeftOut] = useState<string[]>([])
  const [isSaved, setSaved] = useState(false)
  const indexes = Array.from({ length: lines }, (_, index) => index)
  return (
    <CommandForm
      run={async (form) => {
        setSaved(false)
        const rows = indexes.map((index) => ({
          zone: form.text(`rows.${index}.zone`),
          countries: form.text(`rows.${index}.countries`),
          amount: form.text(`rows.${index}.amount`),
        }))
        return (await run({ lot, rows })) ?? null
      }}
      pending={pending}
      refusal={refusal}
      onDone={() => {
        setSaved(true)
        router.refresh()
      }}
      label="Postage"
    >
      <p className="small quiet">
        Countries by their two letters, such as GB, IE, NO; or “everywhere else” in the last line. A line left empty is left out.
      </p>
      {bands.length > 0 &&
        (chargeableGrams === null ? (
          <p className="small">Write its weight and size above and save them, and the campaign’s table of postage fills these lines.</p>
        ) : (
          <div className="row">
            <button type="button" className="button-line" onClick={() => fill(chargeableGrams)}>
              Fill from the table, for {showGrams(chargeableGrams)}
            </button>
            <span role="status" className="small">
              {filled > 0 && 'Filled; save it if it is right.'}
              {leftOut.length > 0 && ` Too heavy for ${leftOut.join(', ')}.`}
            </span>
          </div>
        ))}
      {indexes.map((index) => {
        const line = postage[index]
        return (
          <div key={`${filled} ${index}`} className={styles.lines}>
            <TextField name={`rows.${index}.zone`} label={`Line ${index + 1}: how`} width="full" defaultValue={line?.zone ?? ''} />
            <TextField
              name={`rows.${index}.countries`}
              label="Countries"
              width="full"
              defaultValue={line ? showCountries(line.countries) : ''}
            />
            <MoneyField
              name={`rows.${index}.amount`}
              label="Postage"
              currency={currency}
              defaultValue={line ? plainMoney(line.amountMinor, currency) : ''}
            />
          </div>
        )
      })}
      <div className="row">
        <SubmitButton>Save the postage</SubmitButton>
        {lines < MOST_LINES && (
          <button type="button" className="button-line" onClick={() => setLines(lines + 1)}>
            Another line
          </button>
        )}
        <span role="status">{isSaved ? 'Saved.' : ''}</span>
      </div>
    </CommandForm>
  )
}
