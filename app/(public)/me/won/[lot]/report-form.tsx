'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { useFormKey } from '#app/_trpc/use-form-key.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { PhotoField } from '#app/_ui/forms/photo-field.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextareaField } from '#app/_ui/forms/text-fields.tsx'

/** Says what is wrong, with a photograph where there is something to see; begun with what was found at home. */
export function ReportForm({ lot, begun }: { lot: number; begun: string }) {
  const router = useRouter()
  const { key, renew } = useFormKey()
  const { run, pending, refusal } = useCommand(api.sending.report.mutate)
  return (
    <CommandForm
      label="Report a problem"
      pending={pending}
      refusal={refusal}
      emptyWhenDone
      run={(form) => run({ key, lot, words: form.text('words'), photoSha: form.maybe('photoSha') })}
      onDone={() => {
        renew()
        router.refresh()
      }}
    >
      <TextareaField
        name="words"
        label="What is wrong"
        rows={begun === '' ? 4 : 8}
        defaultValue={begun}
        hint="What you see, hear or measure, and since when."
      />
      <PhotoField name="photoSha" label="A photograph of it" optional hint="Seen by you and by whoever answers." />
      <div>
        <SubmitButton kind="line">Report it</SubmitButton>
      </div>
    </CommandForm>
  )
}
