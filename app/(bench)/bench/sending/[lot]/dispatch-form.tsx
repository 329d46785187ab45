'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import type { SendingView } from '#money/sending/sending.contract'

/** It leaves the house; what still stands in the way is said before. */
export function DispatchForm({ view }: { view: SendingView }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.sending.dispatch.mutate)
  if (view.whyNot.length > 0) {
    return (
      <>
        <p>It can go once this is done:</p>
        <ul>
          {view.whyNot.map((words) => (
            <li key={words}>{words}</li>
          ))}
        </ul>
      </>
    )
  }
  return (
    <CommandForm
      label="On its way"
      pending={pending}
      refusal={refusal}
      run={async (form) =>
        (await run({
          lot: view.lot,
          carrier: form.text('carrier'),
          tracking: form.text('tracking'),
          trackingUrl: form.text('trackingUrl'),
        })) ?? null
      }
      onDone={() => router.refresh()}
    >
      <TextField name="carrier" label="Who carries it" />
      <TextField name="tracking" label="Their number for it" optional mono width="short" />
      <TextField name="trackingUrl" label="Where it can be followed" optional type="url" hint="An address that begins with https://." />
      <div>
        <SubmitButton>It has left the house</SubmitButton>
      </div>
    </CommandForm>
  )
}
