'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { MoneyField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { type Currency, plainMoney } from '#kernel/money'
import type { Price } from '#stock/shelf/price.rules'

interface PriceFormProps {
  of: { partId: string } | { batchId: string }
  /** What the price is of, for the name of the form. */
  name: string
  price: (Price & { source: string }) | null
  currency: Currency
}

/** What a part, or the pieces of one batch, would cost to buy again. */
export function PriceForm({ of, name, price, currency }: PriceFormProps) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.shelf.setPrice.mutate)
  return (
    <CommandForm
      label={`Price of ${name}`}
      run={(form) => run({ ...of, amount: form.text('amount'), pieces: form.text('pieces'), source: form.text('source') })}
      pending={pending}
      refusal={refusal}
      onDone={() => router.refresh()}
    >
      <MoneyField
        name="amount"
        currency={currency}
        label="What would it cost to buy again?"
        hint={price ? 'Empty takes the price back.' : undefined}
        defaultValue={price ? plainMoney(price.minor, currency) : ''}
      />
      <TextField name="pieces" label="For how many?" inputMode="numeric" width="code" defaultValue={String(price?.pieces ?? 1)} />
      <TextField
        name="source"
        label="Where is the price from?"
        hint="Such as a shop and the month."
        optional
        maxLength={120}
        defaultValue={price?.source ?? ''}
      />
      <SubmitButton kind="line">Keep the price</SubmitButton>
    </CommandForm>
  )
}
