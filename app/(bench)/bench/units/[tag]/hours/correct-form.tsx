'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { useFormKey } from '#app/_trpc/use-form-key.ts'
import { RadioGroup } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'

/** Time that left no note is added, time that was noted without work is taken away; both stay with who and why. */
export function CorrectForm({ tag }: { tag: string }) {
  const router = useRouter()
  const { key, renew } = useFormKey()
  const { run, pending, refusal } = useCommand(api.spent.correctTime.mutate)
  return (
    <details>
      <summary>Put the hours right</summary>
      <CommandForm
        label={`Hours of ${tag}`}
        run={(form) => run({ key, tag, way: form.text('way') as 'more' | 'less', time: form.text('time'), reason: form.text('reason') })}
        pending={pending}
        refusal={refusal}
        onDone={() => {
          renew()
          router.refresh()
        }}
        emptyWhenDone
      >
        <RadioGroup
          name="way"
          label="What is wrong?"
          defaultValue="more"
          choices={[
            { value: 'more', label: 'Work that left no note is missing' },
            { value: 'less', label: 'Time is counted in which nobody worked on it' },
          ]}
        />
        <TextField name="time" label="How long?" hint="Such as 1:30, 2.5 h or 45 min." width="code" />
        <TextField name="reason" label="Why?" maxLength={300} />
        <SubmitButton kind="line">Put it right</SubmitButton>
      </CommandForm>
    </details>
  )
}
