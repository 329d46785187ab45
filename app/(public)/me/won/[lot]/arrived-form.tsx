'use client'

import { useRouter } from 'next/navigation'
import { api } from '../../../../_trpc/client'
import { useCommand } from '../../../../_trpc/use-command'
import { CommandForm } from '../../../../_ui/forms/command-form'
import { SubmitButton } from '../../../../_ui/forms/submit-button'

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
