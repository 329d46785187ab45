'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { useFormKey } from '#app/_trpc/use-form-key.ts'
import { RadioGroup } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { SelectField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { CAUSE_WORDS, CAUSES, type Cause, type SearchView } from '#bench/faults/fault.contract'

/** What it was in the end. It teaches the house where to look when the same is seen again. */
export function CloseForm({ search }: { search: SearchView }) {
  const router = useRouter()
  const { key, renew } = useFormKey()
  const close = useCommand(api.faults.close.mutate)
  const { tag, change, suspects } = search
  const [cause, setCause] = useState<Cause>(change?.designators.length === 1 ? 'part' : 'joint')
  const somewhere = cause !== 'none'
  return (
    <section className="sheet" aria-labelledby="close-fault">
      <details open={change !== null || undefined}>
        <summary>
          <h2 id="close-fault">Found it: close the fault</h2>
        </summary>
        <CommandForm
          label="Close the fault"
          pending={close.pending}
          refusal={close.refusal}
          run={(form) =>
            close.run({
              key,
              tag,
              cause,
              block: somewhere ? form.text('block') : '',
              designator: somewhere ? form.text('designator') : '',
              changed: form.text('changed'),
              minutes: form.text('minutes'),
            })
          }
          onDone={() => {
            renew()
            router.refresh()
          }}
        >
          <RadioGroup
            name="cause"
            label="What it was"
            defaultValue={cause}
            onChoose={(value) => setCause(value as Cause)}
            choices={CAUSES.map((value) => ({ value, label: CAUSE_WORDS[value] }))}
          />
          {somewhere && (
            <>
              <SelectField
                name="block"
                label="Which block it was in"
                hint="The most suspected first."
                defaultValue={change?.blocks.length === 1 ? change.blocks[0] : ''}
                options={[
                  { value: '', label: 'The block of the position' },
                  ...suspects.map(({ block }) => ({ value: block, label: block })),
                ]}
              />
              <TextField
                name="designator"
                label="Position"
                hint="Such as Q4."
                optional={cause !== 'part'}
                mono
                width="code"
                defaultValue={change?.designators.length === 1 ? change.designators[0] : ''}
              />
            </>
          )}
          <TextField name="changed" label="What was changed" defaultValue={change?.changed ?? ''} />
          <TextField name="minutes" label="Minutes it took, from symptom to fix" inputMode="numeric" width="code" />
          <SubmitButton>Close the fault</SubmitButton>
        </CommandForm>
      </details>
    </section>
  )
}
