'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CheckField } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'

/** What everybody may read of it beside the machine's record: nothing until it is chosen here. */
export function ShowForm({ tag, shows }: { tag: string; shows: { hours: boolean; parts: boolean } }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.spent.show.mutate)
  return (
    <section className="sheet stack narrow" aria-labelledby="public">
      <h2 id="public">What everybody may read</h2>
      <p>
        {shows.hours || shows.parts ? 'What is ticked stands' : 'Nothing of this page stands'} on the public record of {tag}. Of the parts
        only one sum is ever shown, given and bought together, so that nobody takes it for the value of a gift.
      </p>
      <CommandForm
        label={`Public of ${tag}`}
        run={(form) => run({ tag, hours: form.text('hours') === 'yes', parts: form.text('parts') === 'yes' })}
        pending={pending}
        refusal={refusal}
        onDone={() => router.refresh()}
      >
        <CheckField name="hours" label="The hours at the bench, without names" defaultChecked={shows.hours} />
        <CheckField name="parts" label="What its parts would cost to buy again, in one sum" defaultChecked={shows.parts} />
        <SubmitButton kind="line">Save</SubmitButton>
      </CommandForm>
    </section>
  )
}
