'use client'

import { useRouter } from 'next/navigation'
import { api } from '../../../../_trpc/client'
import { useCommand } from '../../../../_trpc/use-command'
import { CommandForm } from '../../../../_ui/forms/command-form'
import { NumberStepper } from '../../../../_ui/forms/number-stepper'
import { SubmitButton } from '../../../../_ui/forms/submit-button'
import { TextField } from '../../../../_ui/forms/text-fields'

/** The first run of a design, or more units in the run that there is. */
export function RunForm({ designId, run }: { designId: string; run: string | null }) {
  const router = useRouter()
  const make = useCommand(api.bringup.makeRun.mutate)
  const add = useCommand(api.bringup.makeUnits.mutate)
  return (
    <CommandForm
      label="Units"
      pending={make.pending || add.pending}
      refusal={make.refusal ?? add.refusal}
      run={(form) => {
        const count = form.whole('count')
        return run === null ? make.run({ designId, tagPrefix: form.text('tagPrefix'), count }) : add.run({ runId: run, count })
      }}
      onDone={() => router.push('/bench')}
    >
      {run === null && (
        <TextField name="tagPrefix" label="Letters of the tags" hint="TERN makes TERN-01, TERN-02 and so on." width="code" mono />
      )}
      <NumberStepper name="count" label="How many units" defaultValue={1} min={1} max={99} thing="unit" />
      <SubmitButton kind="line">{run === null ? 'Make a run' : 'Add units'}</SubmitButton>
    </CommandForm>
  )
}
