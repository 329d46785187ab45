'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'
import { When } from '#app/_ui/when.tsx'
import { sayMinutes } from '#bench/spent/minutes.rules'
import type { Week } from '#bench/spent/spent.contract'

/** How hours are counted, and how many of them a week has; the maker says both. */
export function WeekForm({ week, isMaker, zone }: { week: Week; isMaker: boolean; zone: string }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.spent.setWeek.mutate)
  const { pauseMinutes, leadMinutes, weeklyMinutes, at, by } = week
  return (
    <section className="sheet stack narrow" aria-labelledby="week">
      <h2 id="week">How hours are counted</h2>
      <p>
        Whoever makes a note at a machine has worked on it since the note before, unless that was longer ago than{' '}
        <b>{sayMinutes(pauseMinutes)}</b>. Then the work began <b>{sayMinutes(leadMinutes)}</b> before the note. Two people at one machine
        count both. A soak that runs by itself is nobody’s work.
      </p>
      <p>
        {weeklyMinutes === null
          ? 'Nobody has said how many hours a week the bench has.'
          : `The bench has ${sayMinutes(weeklyMinutes)} a week, all people together.`}
        {at !== null && (
          <span className="small quiet">
            {' '}
            Said by {by}, <When at={at} zone={zone} brief />.
          </span>
        )}
      </p>
      {isMaker && (
        <details open={at === null}>
          <summary>Change it</summary>
          <CommandForm
            label="How hours are counted"
            run={(form) => run({ pause: form.text('pause'), lead: form.text('lead'), weekly: form.text('weekly') })}
            pending={pending}
            refusal={refusal}
            onDone={() => router.refresh()}
          >
            <TextField
              name="weekly"
              label="Hours a week at the bench"
              hint="All people together, such as 12 h. What can be built then says by when."
              optional
              width="code"
              defaultValue={weeklyMinutes === null ? '' : sayMinutes(weeklyMinutes)}
            />
            <TextField
              name="pause"
              label="After how many minutes without a note was the bench left?"
              inputMode="numeric"
              width="code"
              defaultValue={String(pauseMinutes)}
            />
            <TextField
              name="lead"
              label="How many minutes before the first note did work begin?"
              inputMode="numeric"
              width="code"
              defaultValue={String(leadMinutes)}
            />
            <SubmitButton kind="line">Count hours this way</SubmitButton>
          </CommandForm>
        </details>
      )}
    </section>
  )
}
