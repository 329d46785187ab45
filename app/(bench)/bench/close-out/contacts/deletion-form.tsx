'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'

/** Two steps: the question, and the campaign's name typed. */
export function DeletionForm({ campaign, shown }: { campaign: string; shown: string }) {
  const router = useRouter()
  const { run, ...command } = useCommand(api.deletion.deleteContacts.mutate)
  return (
    <div className="row">
      <ConfirmButton
        {...command}
        run={(form) => run({ typed: form.text('typed'), shown })}
        onDone={() => router.refresh()}
        title="Delete contact data for good?"
        undoes={
          <p>
            Everything in the list above is deleted and written over, in the database and in its file. It cannot be undone: none of these
            people can be reached from here any more. Books, histories and certificates stay and can still be verified.
          </p>
        }
        fields={<TextField name="typed" label={`Type the campaign’s name: ${campaign}`} autoComplete="off" />}
        confirm="Delete it for good"
        keep="Keep it"
      >
        Delete contact data…
      </ConfirmButton>
    </div>
  )
}
