'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { SelectField, TextField } from '#app/_ui/forms/text-fields.tsx'
import type { SendingTerms } from '#money/sending/sending.contract'

/** Names of countries come from the server: browsers spell some of them otherwise. */
export function TermsForm({ terms, countries }: { terms: SendingTerms; countries: readonly { value: string; label: string }[] }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.sending.saveTerms.mutate)
  const [isSaved, setSaved] = useState(false)
  return (
    <CommandForm
      label="For every parcel"
      pending={pending}
      refusal={refusal}
      run={async (form) => {
        setSaved(false)
        const value = {
          homeCountry: form.text('homeCountry'),
          volumetricDivisor: form.text('volumetricDivisor'),
          answerHours: form.text('answerHours'),
          addressesKeptDays: form.text('addressesKeptDays'),
        }
        return (await run(value)) ?? null
      }}
      onDone={() => {
        setSaved(true)
        router.refresh()
      }}
    >
      <SelectField name="homeCountry" label="Sent from" defaultValue={terms.homeCountry} options={countries} />
      <TextField
        name="volumetricDivisor"
        label="Divisor of the volumetric weight, cm³ to the kilogram"
        hint="Use your carrier’s; 5000 and 6000 are common."
        inputMode="numeric"
        width="code"
        defaultValue={String(terms.volumetricDivisor)}
      />
      <TextField
        name="answerHours"
        label="Hours until a reported problem is first answered"
        inputMode="numeric"
        width="code"
        defaultValue={String(terms.answerHours)}
      />
      <TextField
        name="addressesKeptDays"
        label="Days after the stream to keep a buyer’s address"
        hint="After that, the addresses of everything that has arrived are deleted."
        inputMode="numeric"
        width="code"
        defaultValue={String(terms.addressesKeptDays)}
      />
      <div className="row">
        <SubmitButton>Save</SubmitButton>
        <span role="status">{isSaved ? 'Saved.' : ''}</span>
      </div>
    </CommandForm>
  )
}
