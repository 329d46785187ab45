'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { useFormKey } from '#app/_trpc/use-form-key.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextareaField, TextField } from '#app/_ui/forms/text-fields.tsx'

export interface ReminderFormProps {
  letter: { lot: number; step: number; to: string; subject: string; body: string }
}

/** A reminder as it will be read, to be sent so or written anew. */
export function ReminderForm({ letter }: ReminderFormProps) {
  const router = useRouter()
  const { key, renew } = useFormKey()
  const { run, pending, refusal } = useCommand(api.invoices.remind.mutate)
  const { lot, step, to, subject, body } = letter
  return (
    <details>
      <summary>Reminder {step} falls due: read it and send it</summary>
      <CommandForm
        label={`Reminder ${step} for lot ${lot}`}
        pending={pending}
        refusal={refusal}
        run={async (form) => (await run({ key, lot, step, subject: form.text('subject'), body: form.text('body') })) ?? null}
        onDone={() => {
          renew()
          router.refresh()
        }}
      >
        <p className="small quiet">To {to}</p>
        <TextField name="subject" label="Subject" defaultValue={subject} />
        <TextareaField name="body" label="What it says" rows={14} defaultValue={body} />
        <div>
          <SubmitButton>Send the reminder</SubmitButton>
        </div>
      </CommandForm>
    </details>
  )
}
