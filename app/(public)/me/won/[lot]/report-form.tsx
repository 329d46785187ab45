'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { useFormKey } from '#app/_trpc/use-form-key.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextareaField } from '#app/_ui/forms/text-fields.tsx'

export function ReportForm({ lot }: { lot: number }) {
  const router = useRouter()
  const { key, renew } = useFormKey()
  const { run, pending, refusal } = useCommand(api.sending.report.mutate)
  return (
    <CommandForm
      label="Report a problem"
      pending={pending}
      refusal={refusal}
      emptyWhenDone
      run={(form) => run({ key, lot, words: form.text('words') })}
      onDone={() => {
        renew()
        router.refresh()
      }}
    >
      <TextareaField name="words" label="What is wrong" rows={4} hint="What you see, hear or measure, and since when." />
      <div>
        <SubmitButton kind="line">Report it</SubmitButton>
      </div>
    </CommandForm>
  )
}
