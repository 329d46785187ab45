'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { showIban } from '../../../../../server/invoices/iban.rules'
import type { PaymentTerms } from '../../../../../server/invoices/invoices.contract'
import type { Currency } from '../../../../../server/kernel/money'
import { api } from '../../../../_trpc/client'
import { useCommand } from '../../../../_trpc/use-command'
import { CheckField } from '../../../../_ui/forms/choice-fields'
import { CommandForm } from '../../../../_ui/forms/command-form'
import { SubmitButton } from '../../../../_ui/forms/submit-button'
import { TextField } from '../../../../_ui/forms/text-fields'

export function TermsForm({ terms, currency }: { terms: PaymentTerms; currency: Currency }) {
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
            ? 'With it a payment code stands on every invoice, which a bank’s program reads.'
            : `It stands on every invoice. A payment code is made for euros alone; the campaign is in ${currency}.`
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
        label="Reminders leave by themselves"
        hint="At nine in the morning of their day, with the proposed text. Otherwise each is read and sent by a person."
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
