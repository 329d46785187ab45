'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'

export function BuyForm({ partId }: { partId: string }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.shelf.buy.mutate)
  return (
    <CommandForm
      run={(form) =>
        run({
          partId,
          boughtFrom: form.text('boughtFrom'),
          quantity: form.text('quantity'),
          marking: form.text('marking'),
          dateCode: form.text('dateCode'),
        })
      }
      pending={pending}
      refusal={refusal}
      onDone={() => router.refresh()}
      emptyWhenDone
      label="A batch that was bought"
    >
      <TextField name="boughtFrom" label="From whom?" maxLength={120} />
      <TextField name="quantity" label="How many?" inputMode="numeric" width="code" />
      <TextField name="marking" label="Marking" optional mono width="short" maxLength={80} />
      <TextField name="dateCode" label="Date code" optional mono width="code" maxLength={40} />
      <SubmitButton kind="line">Make a batch of it</SubmitButton>
    </CommandForm>
  )
}
