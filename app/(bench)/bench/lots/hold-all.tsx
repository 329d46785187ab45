'use client'

import { useRouter } from 'next/navigation'
import { api } from '../../../_trpc/client'
import { useCommand } from '../../../_trpc/use-command'
import { CommandForm } from '../../../_ui/forms/command-form'
import { ConfirmButton } from '../../../_ui/forms/confirm-button'
import { SubmitButton } from '../../../_ui/forms/submit-button'
import { TextField } from '../../../_ui/forms/text-fields'

/** Stops all clocks, or lets them go on. */
export function HoldAll({ reason, open }: { reason: string | null; open: number }) {
  const router = useRouter()
  const hold = useCommand(api.bidding.holdAll.mutate)
  const resume = useCommand(() => api.bidding.resumeAll.mutate())
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
          <p>All clocks stand still: {reason}</p>
          <SubmitButton>Let all clocks go on</SubmitButton>
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
          When the clocks go on, all closings move by the time held, and the earliest gets a quarter of an hour after a longer hold.
        </p>
      }
      fields={<TextField name="reason" label="Reason, for everybody to read" width="full" />}
      confirm="Stop all clocks"
      keep="Let them run"
    >
      Stop all clocks…
    </ConfirmButton>
  )
}
