'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'
import type { ProgrammeItem } from '#sale/programme/programme.contract'

export function RemoveButton({ item }: { item: ProgrammeItem }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.programme.remove.mutate)
  return (
    <ConfirmButton
      title={`Take out ${item.title}?`}
      undoes={
        <p>
          {item.kind === 'closing'
            ? `Lot ${item.lot} has no closing then, until it is put in again.`
            : 'It leaves the programme and the calendars.'}
        </p>
      }
      confirm="Take it out"
      pending={pending}
      refusal={refusal}
      run={() => run({ itemId: item.id })}
      onDone={() => {
        router.push('/bench/programme')
        router.refresh()
      }}
    >
      Take it out…
    </ConfirmButton>
  )
}
