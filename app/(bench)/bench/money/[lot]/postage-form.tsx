'use client'

import { useRouter } from 'next/navigation'
import type { Currency } from '../../../../../server/kernel/money'
import { api } from '../../../../_trpc/client'
import { useCommand } from '../../../../_trpc/use-command'
import { useFormKey } from '../../../../_trpc/use-form-key'
import { CommandForm } from '../../../../_ui/forms/command-form'
import { SubmitButton } from '../../../../_ui/forms/submit-button'
import { MoneyField } from '../../../../_ui/forms/text-fields'

export function PostageForm({ lot, currency, postage }: { lot: number; currency: Currency; postage: string }) {
  const router = useRouter()
  const { key, renew } = useFormKey()
  const { run, pending, refusal } = useCommand(api.money.postage.mutate)
  return (
    <CommandForm
      label="Postage"
      pending={pending}
      refusal={refusal}
      run={(form) => run({ key, lot, amount: form.text('amount') })}
      onDone={() => {
        renew()
        router.refresh()
      }}
    >
      <MoneyField
        name="amount"
        label="What the postage is"
        currency={currency}
        defaultValue={postage}
        hint="It never counts towards the target."
      />
      <SubmitButton kind="line">Change the postage</SubmitButton>
    </CommandForm>
  )
}
