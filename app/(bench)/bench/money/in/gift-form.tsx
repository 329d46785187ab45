'use client'

import type { Currency } from '../../../../../server/kernel/money'
import { api } from '../../../../_trpc/client'
import { CommandForm } from '../../../../_ui/forms/command-form'
import { SubmitButton } from '../../../../_ui/forms/submit-button'
import { MoneyField, TextField } from '../../../../_ui/forms/text-fields'
import { PaperFields } from '../paper-fields'
import { useBookForm } from '../use-book-form'

export function GiftForm({ currency }: { currency: Currency }) {
  const { key, run, ...form } = useBookForm(api.money.give.mutate)
  return (
    <CommandForm
      {...form}
      label="A gift of money"
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
      <TextField name="from" label="From whom" hint="For the books only; it is not shown outside." />
      <MoneyField name="amount" label="How much" currency={currency} hint="It goes to the cause whole and buys nothing." />
      <PaperFields />
      <SubmitButton>Record it</SubmitButton>
    </CommandForm>
  )
}
