'use client'

import { api } from '#app/_trpc/client.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import type { Currency } from '#kernel/money'
import { PaymentFields, paymentIn } from '../payment-fields'
import { useBookForm } from '../use-book-form'

export interface PaymentFormProps {
  lot: number
  currency: Currency
  /** What is still to pay, as it would be typed. */
  owed: string
  reference: string
}

/** Marks a lot paid, whole or in part; more than is owed is kept in sight only when that is asked. */
export function PaymentForm({ lot, currency, owed, reference }: PaymentFormProps) {
  const { key, run, ...form } = useBookForm(api.booking.pay.mutate)
  return (
    <CommandForm {...form} label="Money came in" run={(values) => run({ key, lot, ...paymentIn(values) })}>
      <PaymentFields
        currency={currency}
        owed={owed}
        hint={owed === '' ? 'The lot is already paid. Choose below to hold this as unallocated.' : 'A part payment covers postage first.'}
        reference={reference}
      />
      <SubmitButton>{owed === '' ? 'Record it' : 'Mark it paid'}</SubmitButton>
    </CommandForm>
  )
}
