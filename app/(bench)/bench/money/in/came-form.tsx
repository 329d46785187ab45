'use client'

import { api } from '#app/_trpc/client.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { MoneyField, TextField } from '#app/_ui/forms/text-fields.tsx'
import type { Currency } from '#kernel/money'
import { PaperFields } from '../paper-fields'
import { useBookForm } from '../use-book-form'

const CAME = {
  gift: {
    take: api.booking.give.mutate,
    label: 'A gift of money',
    from: 'Who it is from',
    fromHint: 'For the books only; it is not shown outside.',
    amountHint: 'All of it goes to the cause, and it buys nothing.',
    button: 'Record it',
  },
  unknown: {
    take: api.booking.cameUnknown.mutate,
    label: 'Unallocated money',
    from: 'Who it is from, as the bank writes it',
    fromHint: undefined,
    amountHint: 'It counts towards nothing until it is allocated.',
    button: 'Record it as unallocated',
  },
}

/** Money that came from somebody for no lot: a gift, or nobody knows yet what for. */
export function CameForm({ as, currency }: { as: keyof typeof CAME; currency: Currency }) {
  const { take, label, from, fromHint, amountHint, button } = CAME[as]
  const { key, run, ...form } = useBookForm(take)
  return (
    <CommandForm
      {...form}
      label={label}
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
      <TextField name="from" label={from} {...(fromHint && { hint: fromHint })} />
      <MoneyField name="amount" label="How much" currency={currency} hint={amountHint} />
      <PaperFields />
      <SubmitButton>{button}</SubmitButton>
    </CommandForm>
  )
}
