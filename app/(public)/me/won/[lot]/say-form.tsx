'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { useFormKey } from '#app/_trpc/use-form-key.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { PhotoField } from '#app/_ui/forms/photo-field.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextareaField } from '#app/_ui/forms/text-fields.tsx'

export function SayForm({ problemId }: { problemId: string }) {
  const router = useRouter()
  const { key, renew } = useFormKey()
  const { run, pending, refusal } = useCommand(api.sending.say.mutate)
  return (
    <CommandForm
      label="Add to your report"
      pending={pending}
      refusal={refusal}
      emptyWhenDone
      run={async (form) => (await run({ key, problemId, words: form.text('words'), photoSha: form.maybe('photoSha') })) ?? null}
      onDone={() => {
        renew()
        router.refresh()
      }}
    >
      <TextareaField name="words" label="What you want to add" rows={3} />
      <PhotoField name="photoSha" label="A photograph" optional hint="Seen by you and by whoever answers." />
      <div>
        <SubmitButton kind="line">Send it</SubmitButton>
      </div>
    </CommandForm>
  )
}
