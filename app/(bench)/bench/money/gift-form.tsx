'use client'

import { useRouter } from 'next/navigation'
import type { Currency } from '../../../../server/kernel/money'
import { api } from '../../../_trpc/client'
import { useCommand } from '../../../_trpc/use-command'
import { useFormKey } from '../../../_trpc/use-form-key'
import { CommandForm } from '../../../_ui/forms/command-form'
import { SubmitButton } from '../../../_ui/forms/submit-button'
import { MoneyField, TextField } from '../../../_ui/forms/text-fields'

export function GiftForm({ currency }: { currency: Currency }) {
  const router = useRouter()
  const { key, renew } = useFormKey()
  const { run, pending, refusal } = useCommand(api.money.give.mutate)
  return (
    <CommandForm
      label="A gift of money"
      pending={pending}
      refusal={refusal}
      emptyWhenDone
      run={(form) =>
        run({ key, from: form.text('from'), amount: form.text('amount'), reference: form.text('reference'), on: form.text('on') })
      }
      onDone={() => {
        renew()
        router.refresh()
      }}
    >
      <TextField name="from" label="From whom" hint="For the books only; it is not shown outside." />
      <MoneyField name="amount" label="How much" currency={currency} hint="It goes to the cause whole and buys nothing." />
      <TextField name="reference" label="Reference on the bank’s paper" optional mono />
      <TextField name="on" label="Day it came in" hint="Empty is today." optional type="date" width="short" />
      <SubmitButton>Record it</SubmitButton>
    </CommandForm>
  )
}
