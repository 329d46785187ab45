'use client'

import { api } from '#app/_trpc/client.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { MoneyField } from '#app/_ui/forms/text-fields.tsx'
import { type Currency, showMoney } from '#kernel/money'
import { PaperFields } from '../paper-fields'
import { useBookForm } from '../use-book-form'

export function RemittanceForm({ currency, mostMinor }: { currency: Currency; mostMinor: number }) {
  const { key, run, ...form } = useBookForm(api.booking.remit.mutate)
  return (
    <CommandForm
      {...form}
      label="Pass on to the cause"
      emptyWhenDone
      run={(values) => run({ key, amount: values.text('amount'), reference: values.text('reference'), on: values.text('on') })}
    >
      <MoneyField
        name="amount"
        label="How much"
        currency={currency}
        hint={`${showMoney(Math.max(0, mostMinor), currency)} has come in for the cause and is waiting.`}
      />
      <PaperFields day="Day it left the bank" />
      <SubmitButton>Record it</SubmitButton>
    </CommandForm>
  )
}
