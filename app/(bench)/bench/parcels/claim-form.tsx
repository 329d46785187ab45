'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { SelectField } from '#app/_ui/forms/text-fields.tsx'
import type { MergePreview } from '#gifts/parcels/merge.service'
import { MergeWords } from '../donors/merge-words'

interface ClaimFormProps {
  parcelId: string
  /** Stands in for the sender until it is known. */
  standInId: string
  likely: { donorId: string; name: string; exact: number }[]
  donors: { id: string; name: string }[]
}

/** Says who sent a parcel from nobody known; those who promised such parts come first, and what it does is shown before. */
export function ClaimForm({ parcelId, standInId, likely, donors }: ClaimFormProps) {
  const router = useRouter()
  const claim = useCommand(api.parcels.claim.mutate)
  const look = useCommand(api.parcels.previewMerge.query)
  const [chosen, setChosen] = useState('')
  const [preview, setPreview] = useState<MergePreview | null>(null)
  const choose = async (donorId: string) => {
    setChosen(donorId)
    setPreview(null)
    if (donorId === '') return
    const seen = await look.run({ keptId: donorId, goneId: standInId })
    if (seen) setPreview(seen)
  }
  const others = donors.filter(({ id }) => !likely.some(({ donorId }) => donorId === id))
  return (
    <CommandForm
      run={() => claim.run({ parcelId, donorId: chosen })}
      pending={claim.pending}
      refusal={claim.refusal ?? look.refusal}
      onDone={() => router.refresh()}
      label="The sender of a parcel"
    >
      <SelectField
        name="donorId"
        label="Who sent it?"
        value={chosen}
        onChange={(event) => choose(event.currentTarget.value)}
        options={[
          { value: '', label: 'Not known yet' },
          ...likely.map(({ donorId, name, exact }) => ({
            value: donorId,
            label: `${name}, who promised ${exact > 0 ? 'just that' : 'some of that'}`,
          })),
          ...others.map(({ id, name }) => ({ value: id, label: name })),
        ]}
      />
      {preview && (
        <>
          <MergeWords preview={preview} />
          <SubmitButton kind="line">It is from {preview.keptName}</SubmitButton>
        </>
      )}
    </CommandForm>
  )
}
