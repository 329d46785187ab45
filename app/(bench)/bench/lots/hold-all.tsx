'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'

/** Stops all clocks, or lets them go on. */
export function HoldAll({ reason, open }: { reason: string | null; open: number }) {
  const router = useRouter()
  const hold = useCommand(api.programme.holdAll.mutate)
  const resume = useCommand(() => api.programme.resumeAll.mutate())
  if (reason !== null)
    return (
      <CommandForm
        run={() => resume.run(undefined)}
        pending={resume.pending}
        refusal={resume.refusal}
        onDone={() => router.refresh()}
        label="All clocks"
      >
        <div className="row">
          <p>All clocks are stopped: {reason}</p>
          <SubmitButton>Restart all clocks</SubmitButton>
        </div>
      </CommandForm>
    )
  return (
    <ConfirmButton
      run={(form) => hold.run({ reason: form.text('reason') })}
      pending={hold.pending}
      refusal={hold.refusal}
      onDone={() => router.refresh()}
      title="Stop all clocks?"
      undoes={
        <p>
          {open === 1 ? 'One open lot goes' : `${open} open lots go`} on hold at once and take no bids; every page says so with your reason.
          When the clocks restart, no closing has less than a quarter of an hour, or after a short hold what was left. What has room behind
          it stays where it was announced.
        </p>
      }
      fields={<TextField name="reason" label="Reason, for everybody to read" width="full" />}
      confirm="Stop all clocks"
      keep="Leave them running"
    >
      Stop all clocks…
    </ConfirmButton>
  )
}
