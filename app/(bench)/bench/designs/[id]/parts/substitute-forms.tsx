'use client'

import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { SelectField, TextField } from '#app/_ui/forms/text-fields.tsx'

export interface SubstituteFormsProps {
  lineId: string
  positions: string
  substitutes: { partId: string; words: string; reason: string }[]
  /** Parts of the same kind in the catalogue. */
  others: { id: string; words: string }[]
}

/** What one line accepts in place of its part, and another that it may. */
export function SubstituteForms({ lineId, positions, substitutes, others }: SubstituteFormsProps) {
  const router = useRouter()
  const accept = useCommand(api.designs.accept.mutate)
  const refuse = useCommand(api.designs.refuse.mutate)
  return (
    <div className="stack close">
      {substitutes.map(({ partId, words, reason }) => (
        <div key={partId} className="row">
          <span>
            {words}
            {reason !== '' && <span className="small quiet"> {reason}</span>}
          </span>
          <ConfirmButton
            run={() => refuse.run({ lineId, partId })}
            pending={refuse.pending}
            refusal={refuse.refusal}
            onDone={() => router.refresh()}
            title={`Accept ${words} no more?`}
            undoes={<p>It can no longer be fitted at {positions}. Anything already fitted stays fitted.</p>}
            confirm="Stop accepting it"
          >
            Remove it
          </ConfirmButton>
        </div>
      ))}
      {others.length > 0 && (
        <details>
          <summary className="small">Accept another</summary>
          <CommandForm
            label={`Substitute for ${positions}`}
            run={(form) => accept.run({ lineId, partId: form.text('partId'), reason: form.text('reason') })}
            pending={accept.pending}
            refusal={accept.refusal}
            onDone={() => router.refresh()}
            emptyWhenDone
          >
            <SelectField name="partId" label="Part" options={others.map(({ id, words }) => ({ value: id, label: words }))} />
            <TextField name="reason" label="Why it can be used instead" maxLength={500} />
            <SubmitButton kind="line">Accept it</SubmitButton>
          </CommandForm>
        </details>
      )}
    </div>
  )
}
