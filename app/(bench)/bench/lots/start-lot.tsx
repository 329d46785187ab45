'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { SelectField } from '#app/_ui/forms/text-fields.tsx'

export function StartLot({ units }: { units: string[] }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.lots.start.mutate)
  return (
    <CommandForm
      run={(form) => run({ unit: form.text('unit') })}
      pending={pending}
      refusal={refusal}
      onDone={({ number }) => router.push(`/bench/lots/${number}`)}
    >
      <SelectField
        name="unit"
        label="Unit"
        options={[{ value: '', label: 'Choose a unit' }, ...units.map((tag) => ({ value: tag, label: tag }))]}
      />
      <SubmitButton>Start the lot</SubmitButton>
    </CommandForm>
  )
}
