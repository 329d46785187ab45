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
    from: 'From whom',
    fromHint: 'For the books only; it is not shown outside.',
    amountHint: 'It goes to the cause whole and buys nothing.',
    button: 'Record it',
  },
  unknown: {
    take: api.booking.cameUnknown.mutate,
    label: 'Money without a home',
    from: 'From whom, as the bank writes it',
    fromHint: undefined,
    amountHint: 'It counts towards nothing until it has a home.',
    button: 'Keep it in sight',
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
