'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CheckField, RadioGroup } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import type { Currency } from '#kernel/money'
import { showIban } from '#money/invoices/iban.rules'
import { type PaymentTerms, TAX_SCHEMES } from '#money/invoices/invoices.contract'

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
          taxScheme: TAX_SCHEMES.find((scheme) => scheme === form.text('taxScheme')) ?? 'none',
          taxRate: form.text('taxRate'),
          taxNumber: form.text('taxNumber'),
          taxWords: form.text('taxWords'),
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
      <h2>Tax on invoices</h2>
      <p className="small">
        Whether tax is due, at which rate and with which words depends on who sells, what, and where. The house does not know: ask the tax
        office or somebody who is licensed to advise before you choose anything but “none”. What you choose holds for invoices that are
        issued from now on.
      </p>
      <RadioGroup
        name="taxScheme"
        label="What an invoice states"
        defaultValue={terms.taxScheme}
        choices={[
          { value: 'none', label: 'No tax' },
          { value: 'rate', label: 'A rate that the price contains', hint: 'Each line then shows net, tax and amount.' },
          { value: 'margin', label: 'A margin scheme', hint: 'The invoice says so and shows no tax apart.' },
        ]}
      />
      <TextField
        name="taxRate"
        label="Rate, per cent"
        optional
        width="code"
        inputMode="decimal"
        defaultValue={terms.taxRateBp === 0 ? '' : String(terms.taxRateBp / 100)}
      />
      <TextField name="taxNumber" label="The seller’s number for tax" optional mono width="short" defaultValue={terms.taxNumber} />
      <TextField
        name="taxWords"
        label="Words that local law requires beside it"
        hint="They are printed as you write them."
        optional
        defaultValue={terms.taxWords}
      />
      <div className="row">
        <SubmitButton>Save</SubmitButton>
        <span role="status">{isSaved ? 'Saved.' : ''}</span>
      </div>
    </CommandForm>
  )
}
