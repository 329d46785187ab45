'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'
import { nameLots } from '#sale/lots/name-lots.rules'

/** Opens every lot that lacks nothing, all or none. */
export function OpenReady({ lots }: { lots: number[] }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.bidding.openAll.mutate)
  const isOne = lots.length === 1
  return (
    <ConfirmButton
      run={() => run({ lots })}
      pending={pending}
      refusal={refusal}
      onDone={() => router.refresh()}
      title={`Open ${nameLots(lots)}?`}
      undoes={
        <p>
          {isOne ? 'Its terms are' : 'Their terms are'} fixed from this moment: price, reserve, description, postage. Bidding begins at
          once. After that you can only add a correction, which {isOne ? 'its' : 'their'} bidders are told about.
        </p>
      }
      confirm={isOne ? 'Open the lot' : `Open ${lots.length} lots`}
      keep="Not yet"
    >
      {isOne ? 'Open the one that is ready…' : `Open all ${lots.length} that are ready…`}
    </ConfirmButton>
  )
}
