'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'

export function ArrivedForm({ lot }: { lot: number }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.sending.arrived.mutate)
  return (
    <CommandForm
      label="It has arrived"
      pending={pending}
      refusal={refusal}
      run={async () => (await run({ lot })) ?? null}
      onDone={() => router.refresh()}
    >
      <div>
        <SubmitButton>It has arrived</SubmitButton>
      </div>
    </CommandForm>
  )
}
