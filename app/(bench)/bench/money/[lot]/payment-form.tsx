'use client'

import { useRouter } from 'next/navigation'
import type { Currency } from '../../../../../server/kernel/money'
import { api } from '../../../../_trpc/client'
import { useCommand } from '../../../../_trpc/use-command'
import { useFormKey } from '../../../../_trpc/use-form-key'
import { CommandForm } from '../../../../_ui/forms/command-form'
import { SubmitButton } from '../../../../_ui/forms/submit-button'
import { MoneyField, TextField } from '../../../../_ui/forms/text-fields'

export interface PaymentFormProps {
  lot: number
  currency: Currency
  /** What is still to pay, as it would be typed. */
  owed: string
  reference: string
}

/** Marks a lot paid, whole or in part. */
export function PaymentForm({ lot, currency, owed, reference }: PaymentFormProps) {
  const router = useRouter()
  const { key, renew } = useFormKey()
  const { run, pending, refusal } = useCommand(api.money.pay.mutate)
  return (
    <CommandForm
      label="Money came in"
      pending={pending}
      refusal={refusal}
      run={(form) => run({ key, lot, amount: form.text('amount'), reference: form.text('reference'), on: form.text('on') })}
      onDone={() => {
        renew()
        router.refresh()
      }}
    >
      <MoneyField
        key={owed}
        name="amount"
        label="How much"
        currency={currency}
        defaultValue={owed}
        hint="A part payment covers postage first."
      />
      <TextField name="reference" label="Reference on the bank’s paper" optional mono defaultValue={reference} />
      <TextField name="on" label="Day it came in" hint="Empty is today." optional type="date" width="short" />
      <SubmitButton>Mark it paid</SubmitButton>
    </CommandForm>
  )
}
