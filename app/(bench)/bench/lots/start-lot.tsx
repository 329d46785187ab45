'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { SelectField } from '#app/_ui/forms/text-fields.tsx'

interface StartLotProps {
  units: string[]
  /** Lots that have something to copy. */
  like: { number: number; title: string }[]
}

export function StartLot({ units, like }: StartLotProps) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(({ unit, from }: { unit: string; from: number }) =>
    from === 0 ? api.lots.start.mutate({ unit }) : api.lots.copy.mutate({ unit, from }),
  )
  return (
    <CommandForm
      label="A new lot"
      run={(form) => run({ unit: form.text('unit'), from: Number(form.text('from')) })}
      pending={pending}
      refusal={refusal}
      onDone={({ number }) => router.push(`/bench/lots/${number}`)}
    >
      <SelectField
        name="unit"
        label="Unit"
        options={[{ value: '', label: 'Choose a unit' }, ...units.map((tag) => ({ value: tag, label: tag }))]}
      />
      {like.length > 0 && (
        <SelectField
          name="from"
          label="Copy from"
          hint="Title, story, extras, prices, size and postage. Not photographs: they show one machine."
          options={[
            { value: '0', label: 'Nothing' },
            ...like.map(({ number, title }) => ({ value: String(number), label: `Lot ${number}: ${title}` })),
          ]}
        />
      )}
      <SubmitButton>Start the lot</SubmitButton>
    </CommandForm>
  )
}
