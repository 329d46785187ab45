'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { ConfirmButton } from '#app/_ui/forms/confirm-button.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { SelectField } from '#app/_ui/forms/text-fields.tsx'
import type { MergePreview } from '#gifts/parcels/merge.service'
import { MergeWords } from '../merge-words'

interface MergeFormProps {
  keptId: string
  keptName: string
  others: { id: string; label: string }[]
  /** Records that look like the same donor. */
  doubles: { id: string; name: string; mailHint: string }[]
}

/** Takes another record of the same donor into this one, after showing what that would do. */
export function MergeForm({ keptId, keptName, others, doubles }: MergeFormProps) {
  const router = useRouter()
  const look = useCommand(api.parcels.previewMerge.query)
  const merge = useCommand(api.parcels.mergeDonors.mutate)
  const [seen, setSeen] = useState<{ goneId: string; preview: MergePreview } | null>(null)
  return (
    <>
      {doubles.length > 0 && (
        <p>
          <b>May be the same donor:</b> {doubles.map(({ name, mailHint }) => (mailHint ? `${name} (${mailHint})` : name)).join('; ')}
        </p>
      )}
      <CommandForm
        run={async (form) => {
          const goneId = form.text('goneId')
          const preview = await look.run({ keptId, goneId })
          if (preview) setSeen({ goneId, preview })
          return preview
        }}
        pending={look.pending}
        refusal={look.refusal}
        label="Another record of the same donor"
      >
        <SelectField
          name="goneId"
          label={`Which record should be merged into ${keptName}’s?`}
          defaultValue={doubles[0]?.id}
          options={others.map(({ id, label }) => ({ value: id, label }))}
        />
        <SubmitButton kind="line">Show what it would do</SubmitButton>
      </CommandForm>
      {seen && (
        <div className="stack close">
          <MergeWords preview={seen.preview} />
          <ConfirmButton
            run={() => merge.run({ keptId, goneId: seen.goneId })}
            pending={merge.pending}
            refusal={merge.refusal}
            onDone={() => {
              setSeen(null)
              router.refresh()
            }}
            title={`Merge the records of ${seen.preview.keptName} and ${seen.preview.goneName}?`}
            undoes={
              <>
                <MergeWords preview={seen.preview} />
                <p>This cannot be undone. Every gift keeps a note of which record it came from.</p>
              </>
            }
            confirm="Merge them"
          >
            Merge them…
          </ConfirmButton>
        </div>
      )}
    </>
  )
}
