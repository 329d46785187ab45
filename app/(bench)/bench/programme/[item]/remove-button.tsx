'use client'

import { useRouter } from 'next/navigation'
import type { ProgrammeItem } from '../../../../../server/programme/programme.contract'
import { api } from '../../../../_trpc/client'
import { useCommand } from '../../../../_trpc/use-command'
import { ConfirmButton } from '../../../../_ui/forms/confirm-button'

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
