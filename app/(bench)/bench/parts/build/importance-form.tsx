'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CheckboxGroup, RadioGroup } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { IMPORTANCE_WORDS, IMPORTANCES, type Importance } from '#bench/buildable/build.contract'

/** Which units come first where not all can be built. */
export function ImportanceForm({ units }: { units: { unitId: string; tag: string; importance: Importance }[] }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.buildable.setImportance.mutate)
  return (
    <CommandForm
      label="Importance of units"
      run={(form) => run({ unitIds: form.list('unitIds'), importance: Number(form.text('importance')) as Importance })}
      pending={pending}
      refusal={refusal}
      onDone={() => router.refresh()}
      emptyWhenDone
    >
      <CheckboxGroup
        name="unitIds"
        label="Units"
        choices={units.map(({ unitId, tag, importance }) => ({
          value: unitId,
          label: (
            <>
              <span className="code">{tag}</span> <span className="small quiet">{IMPORTANCE_WORDS[importance]}</span>
            </>
          ),
        }))}
      />
      <RadioGroup
        name="importance"
        label="They are built"
        defaultValue="1"
        choices={IMPORTANCES.map((one) => ({ value: String(one), label: IMPORTANCE_WORDS[one] }))}
      />
      <SubmitButton kind="line">Save</SubmitButton>
    </CommandForm>
  )
}
