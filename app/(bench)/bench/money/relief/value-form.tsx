'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { MoneyField, SelectField, TextField } from '#app/_ui/forms/text-fields.tsx'
import type { Currency } from '#kernel/money'
import type { ReliefDesk } from '#money/relief/relief.contract'

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
      <MoneyField
        name="value"
        label="What the same costs elsewhere"
        currency={currency}
        hint="Leave it empty to remove the value."
        optional
      />
      <TextField name="knownFrom" label="Where that price can be seen" hint="For example, a shop’s list with its date." optional />
      <SubmitButton>Publish it</SubmitButton>
    </CommandForm>
  )
}
