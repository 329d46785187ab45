'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { PhotoField } from '#app/_ui/forms/photo-field.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { TextField } from '#app/_ui/forms/text-fields.tsx'

export function AddBoard({ designId }: { designId: string }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.faults.addBoard.mutate)
  const [round, setRound] = useState(0)
  return (
    <section className="sheet stack narrow" aria-labelledby="add">
      <h2 id="add">Add a photograph</h2>
      <CommandForm
        key={round}
        label="A photograph of the board"
        run={(form) => run({ designId, photograph: form.text('photograph'), words: form.text('words') })}
        pending={pending}
        refusal={refusal}
        onDone={() => {
          setRound((before) => before + 1)
          router.refresh()
        }}
      >
        <PhotoField name="photograph" label="Photograph" />
        <TextField name="words" label="What it shows" hint="Such as the top, or the bottom near the transformer." optional maxLength={80} />
        <SubmitButton kind="line">Add it</SubmitButton>
      </CommandForm>
    </section>
  )
}
