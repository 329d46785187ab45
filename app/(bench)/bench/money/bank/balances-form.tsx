'use client'

import { api } from '#app/_trpc/client.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { MoneyField, TextField } from '#app/_ui/forms/text-fields.tsx'
import type { Currency } from '#kernel/money'
import { useBookForm } from '../use-book-form'

/** What stands on the bank's own paper, typed from it. */
export function BalancesForm({ currency }: { currency: Currency }) {
  const { key, run, ...form } = useBookForm(api.bank.balances.mutate)
  return (
    <CommandForm
      {...form}
      emptyWhenDone
      label="The bank’s balances"
      run={(values) =>
        run({
          key,
          account: values.text('account'),
          opensOn: values.text('opensOn'),
          closesOn: values.text('closesOn'),
          opening: values.text('opening'),
          closing: values.text('closing'),
        })
      }
    >
      <TextField name="account" label="Which account" optional />
      <TextField name="opensOn" label="First day" type="date" width="short" />
      <MoneyField
        name="opening"
        label="On the account before the first line"
        currency={currency}
        hint="With a minus where it was overdrawn."
      />
      <TextField name="closesOn" label="Last day" type="date" width="short" />
      <MoneyField name="closing" label="On the account after the last line" currency={currency} />
      <SubmitButton>Keep the balances</SubmitButton>
    </CommandForm>
  )
}
