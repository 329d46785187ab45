'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'

export function TermForm({ days }: { days: number }) {
  const router = useRouter()
  const { run, ...command } = useCommand(api.deletion.setTerm.mutate)
  return (
    <details>
      <summary>Change the term</summary>
      <CommandForm {...command} label="The term" run={(form) => run({ days: form.text('days') })} onDone={() => router.refresh()}>
        <TextField
          name="days"
          label="Days after the end of the stream"
          hint="90 is common practice. Go first by what people were told when they gave their address, then by what the law of your country requires."
          inputMode="numeric"
          width="short"
          defaultValue={String(days)}
        />
        <SubmitButton>Save the term</SubmitButton>
      </CommandForm>
    </details>
  )
}
