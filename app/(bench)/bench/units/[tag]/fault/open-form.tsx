'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { useFormKey } from '#app/_trpc/use-form-key.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'

/** A fault that no check has shown yet: it hums, it gets warm. */
export function OpenForm({ tag }: { tag: string }) {
  const router = useRouter()
  const { key, renew } = useFormKey()
  const open = useCommand(api.faults.open.mutate)
  return (
    <section className="sheet stack" aria-labelledby="open-fault">
      <h2 id="open-fault">Something is wrong that no check has shown?</h2>
      <CommandForm
        label="Open a fault"
        pending={open.pending}
        refusal={open.refusal}
        run={(form) => open.run({ key, tag, symptom: form.text('symptom') })}
        onDone={() => {
          renew()
          router.refresh()
        }}
      >
        <TextField name="symptom" label="What it does, or does not do" hint="Such as: hums once it is warm." />
        <SubmitButton kind="line">Open a fault</SubmitButton>
      </CommandForm>
    </section>
  )
}
