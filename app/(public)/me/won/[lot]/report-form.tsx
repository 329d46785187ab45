'use client'

import { useRouter } from 'next/navigation'
import { api } from '../../../../_trpc/client'
import { useCommand } from '../../../../_trpc/use-command'
import { useFormKey } from '../../../../_trpc/use-form-key'
import { CommandForm } from '../../../../_ui/forms/command-form'
import { SubmitButton } from '../../../../_ui/forms/submit-button'
import { TextareaField } from '../../../../_ui/forms/text-fields'

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
