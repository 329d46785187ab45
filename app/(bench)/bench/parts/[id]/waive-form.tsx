'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'

/** Lets a batch that its plan rejected into machines all the same. */
export function WaiveForm({ batchId, code }: { batchId: string; code: string }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.shelf.waive.mutate)
  return (
    <details>
      <summary>Let it through all the same</summary>
      <CommandForm
        label={`Let ${code} through`}
        pending={pending}
        refusal={refusal}
        run={(form) => run({ batchId, name: form.text('name'), reason: form.text('reason') })}
        onDone={() => router.refresh()}
      >
        <TextField name="name" label="Your name" width="short" autoComplete="name" />
        <TextField
          name="reason"
          label="Why"
          hint="It is printed, signed, on the certificate of each machine that holds a piece of it. Your name is not."
          maxLength={300}
        />
        <SubmitButton kind="line">Let it through</SubmitButton>
      </CommandForm>
    </details>
  )
}
