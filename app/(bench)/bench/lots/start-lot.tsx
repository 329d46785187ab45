'use client'

import { useRouter } from 'next/navigation'
import { api } from '../../../_trpc/client'
import { useCommand } from '../../../_trpc/use-command'
import { CommandForm } from '../../../_ui/forms/command-form'
import { SubmitButton } from '../../../_ui/forms/submit-button'
import { SelectField } from '../../../_ui/forms/text-fields'

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
