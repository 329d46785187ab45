'use client'

import { useRouter } from 'next/navigation'
import { type Currency, showMoney } from '../../../../server/kernel/money'
import { api } from '../../../_trpc/client'
import { useCommand } from '../../../_trpc/use-command'
import { useFormKey } from '../../../_trpc/use-form-key'
import { CommandForm } from '../../../_ui/forms/command-form'
import { SubmitButton } from '../../../_ui/forms/submit-button'
import { MoneyField, TextField } from '../../../_ui/forms/text-fields'

export function RemittanceForm({ currency, mostMinor }: { currency: Currency; mostMinor: number }) {
  const router = useRouter()
  const { key, renew } = useFormKey()
  const { run, pending, refusal } = useCommand(api.money.remit.mutate)
  return (
    <CommandForm
      label="Sent on to the cause"
      pending={pending}
      refusal={refusal}
      emptyWhenDone
      run={(form) => run({ key, amount: form.text('amount'), reference: form.text('reference'), on: form.text('on') })}
      onDone={() => {
        renew()
        router.refresh()
      }}
    >
      <MoneyField
        name="amount"
        label="How much"
        currency={currency}
        hint={`${showMoney(mostMinor, currency)} has come in for the cause and waits.`}
      />
      <TextField name="reference" label="Reference on the bank’s paper" optional mono />
      <TextField name="on" label="Day it left the bank" hint="Empty is today." optional type="date" width="short" />
      <SubmitButton>Record it</SubmitButton>
    </CommandForm>
  )
}
