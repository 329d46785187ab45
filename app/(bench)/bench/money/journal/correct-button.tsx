'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { useFormKey } from '#app/_trpc/use-form-key.ts'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import type { JournalLine } from '#money/books/books.contract'

export function CorrectButton({ entry }: { entry: JournalLine }) {
  const router = useRouter()
  const { key, renew } = useFormKey()
  const { run, pending, refusal } = useCommand(api.booking.correct.mutate)
  return (
    <ConfirmButton
      title={`Reverse: ${entry.memo}?`}
      undoes={<p>This writes another entry with the signs reversed. Both stay in the journal.</p>}
      confirm="Reverse it"
      fields={<TextField name="why" label="Why" />}
      pending={pending}
      refusal={refusal}
      run={(form) => run({ key, entryId: entry.id, why: form.text('why') })}
      onDone={() => {
        renew()
        router.refresh()
      }}
    >
      Reverse…
    </ConfirmButton>
  )
}
