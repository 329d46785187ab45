'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'

/** Throws away a sheet that was begun. */
export function DropSheet({ id }: { id: string }) {
  const router = useRouter()
  const drop = useCommand(async () => {
    await api.sheets.drop.mutate({ id })
    return true
  })
  return (
    <ConfirmButton
      title="Throw this sheet away?"
      undoes={<p>What it holds and what you answered goes from this house. Nothing of it was stored; your own file stays as it is.</p>}
      confirm="Throw it away"
      keep="Keep it"
      run={() => drop.run(undefined)}
      pending={drop.pending}
      refusal={drop.refusal}
      onDone={() => router.push('/bench/sheets')}
    >
      Throw this sheet away…
    </ConfirmButton>
  )
}
