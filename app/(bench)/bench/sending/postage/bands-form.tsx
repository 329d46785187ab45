'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { MoneyField, TextField } from '#app/_ui/forms/text-fields.tsx'
import type { Currency } from '#kernel/money'
import { bandRow } from '#money/sending/bands.rules'
import type { Band } from '#money/sending/sending.contract'
import styles from './bands-form.module.css'

/** One row for each zone and weight; a zone goes on in the next row with its name and countries left empty. */
export function BandsForm({ bands, currency }: { bands: Band[]; currency: Currency }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.sending.saveBands.mutate)
  const [rows, setRows] = useState(Math.max(4, bands.length + 1))
  const [isSaved, setSaved] = useState(false)
  const indexes = Array.from({ length: rows }, (_, index) => index)
  return (
    <CommandForm
      label="Zones and weights"
      pending={pending}
      refusal={refusal}
      run={async (form) => {
        setSaved(false)
        const read = (index: number) => ({
          zone: form.text(`rows.${index}.zone`),
          countries: form.text(`rows.${index}.countries`),
          upTo: form.text(`rows.${index}.upTo`),
          amount: form.text(`rows.${index}.amount`),
        })
        return (await run({ rows: indexes.map(read) })) ?? null
      }}
      onDone={() => {
        setSaved(true)
        router.refresh()
      }}
    >
      <p className="small quiet">
        Countries by their two letters, such as GB, IE, or “everywhere else”. For another weight in the same zone, leave zone and countries
        empty.
      </p>
      {indexes.map((index) => {
        const band = bands[index]
        const [zone = '', countries = '', upTo = '', amount = ''] = band ? bandRow(band, currency) : []
        const goesOn = band !== undefined && bands[index - 1]?.zone === band.zone
        return (
          <div key={index} className={styles.bands}>
            <TextField name={`rows.${index}.zone`} label={`Zone, row ${index + 1}`} defaultValue={goesOn ? '' : zone} />
            <TextField name={`rows.${index}.countries`} label="Countries" defaultValue={goesOn ? '' : countries} />
            <TextField name={`rows.${index}.upTo`} label="Up to, g" defaultValue={upTo} />
            <MoneyField name={`rows.${index}.amount`} label="Postage" currency={currency} defaultValue={amount} />
          </div>
        )
      })}
      <div className="row">
        <SubmitButton>Save the table</SubmitButton>
        {rows < 80 && (
          <button type="button" className="button-line" onClick={() => setRows(rows + 3)}>
            More rows
          </button>
        )}
        <span role="status">{isSaved ? 'Saved.' : ''}</span>
      </div>
    </CommandForm>
  )
}
