'use client'

import type { Currency } from '../../../../../server/kernel/money'
import { api } from '../../../../_trpc/client'
import { CommandForm } from '../../../../_ui/forms/command-form'
import { SubmitButton } from '../../../../_ui/forms/submit-button'
import { MoneyField, TextField } from '../../../../_ui/forms/text-fields'
import { PaperFields } from '../paper-fields'
import { useBookForm } from '../use-book-form'

export function UnknownForm({ currency }: { currency: Currency }) {
  const { key, run, ...form } = useBookForm(api.money.cameUnknown.mutate)
  return (
    <CommandForm
      {...form}
      label="Money without a home"
      emptyWhenDone
      run={(values) =>
        run({
          key,
          from: values.text('from'),
          amount: values.text('amount'),
          reference: values.text('reference'),
          on: values.text('on'),
        })
      }
    >
      <TextField name="from" label="From whom, as the bank writes it" />
      <MoneyField name="amount" label="How much" currency={currency} hint="It counts towards nothing until it has a home." />
      <PaperFields />
      <SubmitButton>Keep it in sight</SubmitButton>
    </CommandForm>
  )
}
