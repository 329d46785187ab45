'use client'

import { useRouter } from 'next/navigation'
import type { JournalLine } from '../../../../../server/money/books.contract'
import { api } from '../../../../_trpc/client'
import { useCommand } from '../../../../_trpc/use-command'
import { useFormKey } from '../../../../_trpc/use-form-key'
import { ConfirmButton } from '../../../../_ui/forms/confirm-button'
import { TextField } from '../../../../_ui/forms/text-fields'

export function CorrectButton({ entry }: { entry: JournalLine }) {
  const router = useRouter()
  const { key, renew } = useFormKey()
  const { run, pending, refusal } = useCommand(api.money.correct.mutate)
  return (
    <ConfirmButton
      title={`Take back: ${entry.memo}?`}
      undoes={<p>Another entry with the signs turned is written. Both stay in the journal.</p>}
      confirm="Take it back"
      fields={<TextField name="why" label="Why" />}
      pending={pending}
      refusal={refusal}
      run={(form) => run({ key, entryId: entry.id, why: form.text('why') })}
      onDone={() => {
        renew()
        router.refresh()
      }}
    >
      Take back…
    </ConfirmButton>
  )
}
