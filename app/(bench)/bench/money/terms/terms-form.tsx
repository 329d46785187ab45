'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CheckField } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import type { Currency } from '#kernel/money'
import { showIban } from '#money/invoices/iban.rules'
import type { PaymentTerms } from '#money/invoices/invoices.contract'

export function TermsForm({ terms, currency }: { terms: PaymentTerms; currency: Currency | null }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.invoices.saveTerms.mutate)
  const [isSaved, setSaved] = useState(false)
  const days = (name: string, label: string, value: number, hint?: string) => (
    <TextField name={name} label={label} hint={hint} inputMode="numeric" width="code" defaultValue={String(value)} />
  )
  return (
    <CommandForm
      label="How buyers pay"
      pending={pending}
      refusal={refusal}
      run={async (form) => {
        setSaved(false)
        const typed = {
          accountName: form.text('accountName'),
          iban: form.text('iban'),
          bic: form.text('bic'),
          dueDays: form.text('dueDays'),
          reminderDays: form.text('reminderDays'),
          remindersAlone: form.ticked('remindersAlone'),
          offerAfterDays: form.text('offerAfterDays'),
          offerOpenDays: form.text('offerOpenDays'),
        }
        return (await run(typed)) ?? null
      }}
      onDone={() => {
        setSaved(true)
        router.refresh()
      }}
    >
      <h2>The account</h2>
      <TextField name="accountName" label="Whose account it is, as the bank knows it" optional defaultValue={terms.accountName} />
      <TextField
        name="iban"
        label="IBAN"
        optional
        mono
        hint={
          currency === 'EUR'
            ? 'With it, every invoice carries a payment code that banking apps can read.'
            : `It is printed on every invoice. There is a payment code only for euros${currency === null ? '' : `; the campaign is in ${currency}`}.`
        }
        defaultValue={showIban(terms.iban)}
      />
      <TextField name="bic" label="BIC" optional mono width="short" defaultValue={terms.bic} />
      <h2>Days</h2>
      {days('dueDays', 'Days from the hammer until it is due', terms.dueDays)}
      <TextField
        name="reminderDays"
        label="Reminders, days after the due day"
        hint="One to five, such as 2, 4, 7."
        width="short"
        defaultValue={terms.reminderDays.join(', ')}
      />
      <CheckField
        name="remindersAlone"
        label="Send reminders automatically"
        hint="At nine in the morning of their day, with the proposed text. Otherwise somebody reads and sends each one."
        defaultChecked={terms.remindersAlone}
      />
      {days('offerAfterDays', 'Days after the due day from which the lot can go to the next bidder', terms.offerAfterDays)}
      {days('offerOpenDays', 'Days for which such an offer is open', terms.offerOpenDays)}
      <div className="row">
        <SubmitButton>Save</SubmitButton>
        <span role="status">{isSaved ? 'Saved.' : ''}</span>
      </div>
    </CommandForm>
  )
}
