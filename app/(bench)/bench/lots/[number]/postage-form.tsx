'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { type Currency, plainMoney } from '../../../../../server/kernel/money'
import type { Postage } from '../../../../../server/lots/lots.contract'
import { showCountries } from '../../../../../server/lots/postage.rules'
import { api } from '../../../../_trpc/client'
import { useCommand } from '../../../../_trpc/use-command'
import { CommandForm } from '../../../../_ui/forms/command-form'
import { SubmitButton } from '../../../../_ui/forms/submit-button'
import { MoneyField, TextField } from '../../../../_ui/forms/text-fields'
import styles from './prepare.module.css'

const MOST_LINES = 12

/** Where it can be sent and for how much: one line for each way. */
export function PostageForm({ lot, postage, currency }: { lot: number; postage: Postage[]; currency: Currency }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.lots.savePostage.mutate)
  const [lines, setLines] = useState(Math.max(2, postage.length))
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
      {indexes.map((index) => {
        const line = postage[index]
        return (
          <div key={index} className={styles.lines}>
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
