'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { lotsInWords } from '#money/journal/lot-words.rules'

/** Each lot has a parcel of its own again. */
export function TakeApartButton({ lot, beside }: { lot: number; beside: readonly number[] }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.sending.takeApart.mutate)
  return (
    <CommandForm
      label="Separate parcels"
      pending={pending}
      refusal={refusal}
      run={async () => (await run({ lot })) ?? null}
      onDone={() => router.refresh()}
    >
      <div>
        <SubmitButton kind="line">Send {lotsInWords([lot, ...beside].toSorted((a, b) => a - b))} separately</SubmitButton>
      </div>
    </CommandForm>
  )
}
