'use client'

import { api } from '#app/_trpc/client.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { MoneyField } from '#app/_ui/forms/text-fields.tsx'
import type { Currency } from '#kernel/money'
import { useBookForm } from '../use-book-form'

export function PostageForm({ lot, currency, postage }: { lot: number; currency: Currency; postage: string }) {
  const { key, run, ...form } = useBookForm(api.booking.postage.mutate)
  return (
    <CommandForm {...form} label="Postage" run={(values) => run({ key, lot, amount: values.text('amount') })}>
      <MoneyField
        key={postage}
        name="amount"
        label="The right postage"
        currency={currency}
        defaultValue={postage}
        hint="It never counts towards the target. Anything then overpaid is owed back."
      />
      <SubmitButton kind="line">Change the postage</SubmitButton>
    </CommandForm>
  )
}
