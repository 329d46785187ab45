'use client'

import { api } from '#app/_trpc/client.ts'
import { RadioGroup } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { MoneyField } from '#app/_ui/forms/text-fields.tsx'
import type { Currency } from '#kernel/money'
import { PaperFields } from '../paper-fields'
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
    <CommandForm
      {...form}
      label="Money came in"
      run={(values) =>
        run({
          key,
          lot,
          amount: values.text('amount'),
          reference: values.text('reference'),
          on: values.text('on'),
          over: values.text('over') === 'keep' ? 'keep' : 'refuse',
        })
      }
    >
      <MoneyField
        key={owed}
        name="amount"
        label="How much"
        currency={currency}
        defaultValue={owed}
        hint={owed === '' ? 'The lot is already paid. Choose below to hold this as unallocated.' : 'A part payment covers postage first.'}
      />
      <PaperFields reference={reference} />
      <RadioGroup
        name="over"
        label="If it is more than is owed"
        defaultValue={owed === '' ? 'keep' : 'refuse'}
        choices={[
          { value: 'refuse', label: 'Tell me and record nothing' },
          { value: 'keep', label: 'Hold the rest as unallocated', hint: 'Until the buyer says what it is for.' },
        ]}
      />
      <SubmitButton>{owed === '' ? 'Record it' : 'Mark it paid'}</SubmitButton>
    </CommandForm>
  )
}
