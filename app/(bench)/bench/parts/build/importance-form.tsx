'use client'

import { useRouter } from 'next/navigation'
import { IMPORTANCE_WORDS, IMPORTANCES, type Importance } from '../../../../../server/parts/build.contract'
import { api } from '../../../../_trpc/client'
import { useCommand } from '../../../../_trpc/use-command'
import { CheckboxGroup, RadioGroup } from '../../../../_ui/forms/choice-fields'
import { CommandForm } from '../../../../_ui/forms/command-form'
import { SubmitButton } from '../../../../_ui/forms/submit-button'

/** Which units come first where not all can be built. */
export function ImportanceForm({ units }: { units: { unitId: string; tag: string; importance: Importance }[] }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.parts.importance.mutate)
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
      <SubmitButton kind="line">Set it</SubmitButton>
    </CommandForm>
  )
}
