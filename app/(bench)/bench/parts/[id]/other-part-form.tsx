'use client'

import Link from 'next/link'
import { useRouter } from 'next/navigation'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { SelectField, TextField } from '#app/_ui/forms/text-fields.tsx'

export interface OtherPartFormProps {
  batchId: string
  code: string
  /** Other parts of the same kind. */
  parts: { id: string; words: string }[]
}

/** A bag that turned out to hold another part than it was logged as. */
export function OtherPartForm({ batchId, code, parts }: OtherPartFormProps) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.shelf.otherPart.mutate)
  return (
    <details>
      <summary>It is another part</summary>
      {parts.length === 0 ? (
        <p className="small">
          The catalogue has no other part of this kind. <Link href="/bench/parts">Add it to the catalogue</Link> first.
        </p>
      ) : (
        <CommandForm
          label={`${code} is another part`}
          pending={pending}
          refusal={refusal}
          run={(form) => run({ batchId, partId: form.text('partId'), reason: form.text('reason') })}
          onDone={({ partId }) => router.push(`/bench/parts/${partId}#${code}`)}
        >
          <SelectField name="partId" label="It is" options={parts.map(({ id, words }) => ({ value: id, label: words }))} />
          <TextField name="reason" label="How you know" maxLength={500} />
          <SubmitButton kind="line">Move the batch</SubmitButton>
        </CommandForm>
      )}
    </details>
  )
}
