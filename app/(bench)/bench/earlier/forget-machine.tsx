'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'

/** Takes away one that was written down by mistake. */
export function ForgetMachine({ id, called }: { id: string; called: string }) {
  const router = useRouter()
  const forget = useCommand(async () => {
    await api.earlier.forget.mutate({ id })
    return true
  })
  return (
    <ConfirmButton
      title={`Remove ${called}?`}
      undoes={<p>It is taken out of this list. It cannot be brought back but by a sheet that holds it.</p>}
      confirm="Remove it"
      run={() => forget.run(undefined)}
      pending={forget.pending}
      refusal={forget.refusal}
      onDone={() => router.refresh()}
    >
      Remove…<span className="visually-hidden"> {called}</span>
    </ConfirmButton>
  )
}
