'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'

/** Lays a letter that did not go before the mail server once more. */
export function TryAgain({ id, subject }: { id: string; subject: string }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.outbox.again.mutate)
  return (
    <CommandForm
      label={`Try “${subject}” again`}
      run={() => run({ id })}
      pending={pending}
      refusal={refusal}
      onDone={() => router.refresh()}
    >
      <SubmitButton kind="line">Try again now</SubmitButton>
    </CommandForm>
  )
}
