'use client'

import { useRouter } from 'next/navigation'
import type { Currency } from '../../../../../server/kernel/money'
import type { ReliefDesk } from '../../../../../server/relief/relief.contract'
import { api } from '../../../../_trpc/client'
import { useCommand } from '../../../../_trpc/use-command'
import { CommandForm } from '../../../../_ui/forms/command-form'
import { SubmitButton } from '../../../../_ui/forms/submit-button'
import { MoneyField, SelectField, TextField } from '../../../../_ui/forms/text-fields'

export function ValueForm({ currency, lots }: { currency: Currency; lots: ReliefDesk['lots'] }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.relief.publishValue.mutate)
  return (
    <CommandForm
      label="Publish a value"
      pending={pending}
      refusal={refusal}
      emptyWhenDone
      run={(values) => run({ lot: values.whole('lot'), value: values.text('value'), knownFrom: values.text('knownFrom') })}
      onDone={() => router.refresh()}
    >
      <SelectField
        name="lot"
        label="Lot"
        hint="Only lots that have not opened."
        options={lots.map(({ number, title }) => ({ value: String(number), label: `Lot ${number}: ${title}` }))}
      />
      <MoneyField name="value" label="What the same costs elsewhere" currency={currency} hint="Empty takes a value away again." optional />
      <TextField name="knownFrom" label="Where that price can be seen" hint="A shop’s list with its date, say." optional />
      <SubmitButton>Publish it</SubmitButton>
    </CommandForm>
  )
}
