'use client'

import { useRouter } from 'next/navigation'
import { api } from '../../../../_trpc/client'
import { useCommand } from '../../../../_trpc/use-command'
import { useFormKey } from '../../../../_trpc/use-form-key'
import { CommandForm } from '../../../../_ui/forms/command-form'
import { SubmitButton } from '../../../../_ui/forms/submit-button'
import { TextareaField } from '../../../../_ui/forms/text-fields'

export function SayForm({ problemId }: { problemId: string }) {
  const router = useRouter()
  const { key, renew } = useFormKey()
  const { run, pending, refusal } = useCommand(api.sending.say.mutate)
  return (
    <CommandForm
      label="Say something to it"
      pending={pending}
      refusal={refusal}
      emptyWhenDone
      run={async (form) => (await run({ key, problemId, words: form.text('words') })) ?? null}
      onDone={() => {
        renew()
        router.refresh()
      }}
    >
      <TextareaField name="words" label="What you want to add" rows={3} />
      <div>
        <SubmitButton kind="line">Send it</SubmitButton>
      </div>
    </CommandForm>
  )
}
