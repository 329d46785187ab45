'use client'

import { useRouter } from 'next/navigation'
import { api } from '../../../_trpc/client'
import { useCommand } from '../../../_trpc/use-command'
import { CommandForm } from '../../../_ui/forms/command-form'
import { SubmitButton } from '../../../_ui/forms/submit-button'

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
