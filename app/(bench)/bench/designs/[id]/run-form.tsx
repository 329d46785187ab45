'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { NumberStepper } from '#app/_ui/forms/number-stepper.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'

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
