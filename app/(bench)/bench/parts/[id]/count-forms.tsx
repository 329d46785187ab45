'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'

interface CountFormsProps {
  batchId: string
  code: string
  quantity: number
  bad: number
  place: string
}

/** A miscount corrected, and how many were found bad; both with the reason. */
export function CountForms({ batchId, code, quantity, bad, place }: CountFormsProps) {
  const router = useRouter()
  const recount = useCommand(api.shelf.recount.mutate)
  const lie = useCommand(api.shelf.place.mutate)
  const markBad = useCommand(api.shelf.markBad.mutate)
  const refresh = () => router.refresh()
  return (
    <details>
      <summary>Count it again, say how many are bad, or where it lies</summary>
      <div className="stack wide narrow">
        <CommandForm
          run={(form) => lie.run({ batchId, place: form.text('place') })}
          pending={lie.pending}
          refusal={lie.refusal}
          onDone={refresh}
          label={`Place of ${code}`}
        >
          <TextField
            name="place"
            label="Where does it lie?"
            hint="Such as drawer 4. A pick list goes from place to place."
            width="short"
            defaultValue={place}
            maxLength={60}
          />
          <SubmitButton kind="line">Keep the place</SubmitButton>
        </CommandForm>
        <CommandForm
          run={(form) => recount.run({ batchId, quantity: form.text('quantity'), reason: form.text('reason') })}
          pending={recount.pending}
          refusal={recount.refusal}
          onDone={refresh}
          label={`Recount ${code}`}
        >
          <TextField name="quantity" label="How many really came?" inputMode="numeric" width="code" defaultValue={String(quantity)} />
          <TextField name="reason" label="Why are you correcting the count?" maxLength={500} />
          <SubmitButton kind="line">Correct the count</SubmitButton>
        </CommandForm>
        <CommandForm
          run={(form) => markBad.run({ batchId, bad: form.text('bad'), reason: form.text('reason') })}
          pending={markBad.pending}
          refusal={markBad.refusal}
          onDone={refresh}
          label={`Bad ones of ${code}`}
        >
          <TextField
            name="bad"
            label="How many are bad, in all?"
            hint="Count only those without a tag of their own."
            inputMode="numeric"
            width="code"
            defaultValue={String(bad)}
          />
          <TextField name="reason" label="What was seen?" maxLength={500} />
          <SubmitButton kind="line">Note it</SubmitButton>
        </CommandForm>
      </div>
    </details>
  )
}
