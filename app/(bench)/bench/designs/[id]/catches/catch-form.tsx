'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { SelectField, TextField } from '#app/_ui/forms/text-fields.tsx'
import type { Catches } from './types'

/** Sets one catch, or goes back to the usual. */
export function CatchForm({ table }: { table: Catches }) {
  const router = useRouter()
  const set = useCommand(api.faults.setCatch.mutate)
  return (
    <section className="sheet stack narrow" aria-labelledby="set-catch">
      <h2 id="set-catch">Set a catch</h2>
      <CommandForm
        label="Set a catch"
        pending={set.pending}
        refusal={set.refusal}
        run={(form) => {
          const [check, block, percent] = [form.text('check'), form.text('block'), form.text('percent')]
          return set.run({ designId: table.design.id, check, block, percent })
        }}
        onDone={() => router.refresh()}
      >
        <SelectField
          name="check"
          label="Check"
          options={[{ value: '', label: 'Choose' }, ...table.checks.map(({ key, title }) => ({ value: key, label: `${key} ${title}` }))]}
        />
        <SelectField
          name="block"
          label="If the fault is in"
          options={[{ value: '', label: 'Choose' }, ...table.blocks.map((block) => ({ value: block, label: block }))]}
        />
        <TextField
          name="percent"
          label="In how many of a hundred cases it fails"
          hint="A whole number from 0 to 100; leave it empty for the usual."
          optional
          inputMode="numeric"
          width="code"
        />
        <SubmitButton kind="line">Save</SubmitButton>
      </CommandForm>
    </section>
  )
}
