'use client'

import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { useFormKey } from '#app/_trpc/use-form-key.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'

/** A fault that was only a mistyped reading is taken back in one tap. */
export function SlipForm({ tag, onDone }: { tag: string; onDone(): void }) {
  const { key, renew } = useFormKey()
  const withdraw = useCommand(api.faults.withdraw.mutate)
  return (
    <CommandForm
      label="A typing slip"
      pending={withdraw.pending}
      refusal={withdraw.refusal}
      run={() => withdraw.run({ key, tag })}
      onDone={() => {
        renew()
        onDone()
      }}
    >
      <SubmitButton kind="line">It was a typing slip: withdraw the fault</SubmitButton>
    </CommandForm>
  )
}
