'use client'

import { useRouter } from 'next/navigation'
import type { Instant } from '../../../../server/kernel/instant'
import { api } from '../../../_trpc/client'
import { useCommand } from '../../../_trpc/use-command'
import { ConfirmButton } from '../../../_ui/forms/confirm-button'
import { TextField } from '../../../_ui/forms/text-fields'

/** Stops all clocks, or lets them all go on. Both ask first. */
export function HoldControls({ standing }: { standing: { since: Instant; reason: string } | null }) {
  const router = useRouter()
  const hold = useCommand(api.bidding.holdAll.mutate)
  const resume = useCommand(() => api.bidding.resumeAll.mutate())
  if (standing) {
    return (
      <div className="row">
        <p>
          <b>All clocks are held.</b> {standing.reason}
        </p>
        <ConfirmButton
          title="Let all clocks go on?"
          undoes={<p>Every closing moves later by the time held, or by enough that the first has fifteen minutes. The gaps are kept.</p>}
          confirm="Go on"
          keep="Stay on hold"
          pending={resume.pending}
          refusal={resume.refusal}
          run={() => resume.run(undefined)}
          onDone={() => router.refresh()}
        >
          Go on…
        </ConfirmButton>
      </div>
    )
  }
  return (
    <ConfirmButton
      title="Hold everything?"
      undoes={
        <p>All clocks stop at once and no bid is taken. Everybody watching is told why. It can be undone: the closings then move later.</p>
      }
      confirm="Hold everything"
      keep="Carry on"
      fields={<TextField name="reason" label="Why? Everybody can read it." />}
      pending={hold.pending}
      refusal={hold.refusal}
      run={(form) => hold.run({ reason: form.text('reason') })}
      onDone={() => router.refresh()}
    >
      Hold everything…
    </ConfirmButton>
  )
}
