'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { api } from '#app/_trpc/client.ts'
import { useCommand } from '#app/_trpc/use-command.ts'
import { CheckField } from '#app/_ui/forms/choice-fields.tsx'
import { CommandForm } from '#app/_ui/forms/command-form.tsx'
import { PhotoField } from '#app/_ui/forms/photo-field.tsx'
import { SubmitButton } from '#app/_ui/forms/submit-button.tsx'
import { SelectField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { VERDICTS, type Verdict } from '#stock/shelf/shelf.contract'

type Said = Exclude<Verdict, 'not inspected'>
const SAID = VERDICTS.filter((verdict): verdict is Said => verdict !== 'not inspected')
const PLAIN: readonly Said[] = ['good', 'dead', 'wrong part', 'suspect']
/** Of a programmed piece that it is simply good says too little: it is blank, or it holds an image. */
const PROGRAMMED = SAID.filter((verdict) => verdict !== 'good')

/** What was seen, by which reader, and apart from it what is concluded. */
export function InspectForm({ pieceId, tag, programmed }: { pieceId: string; tag: string; programmed: boolean }) {
  const router = useRouter()
  const { run, pending, refusal } = useCommand(api.shelf.inspect.mutate)
  const [round, setRound] = useState(0)
  const choices = programmed ? PROGRAMMED : PLAIN
  return (
    <CommandForm
      key={round}
      run={(form) =>
        run({
          pieceId,
          reader: form.text('reader'),
          verdict: form.text('verdict') as Said,
          symptom: form.text('symptom'),
          imageSha256: form.text('imageSha256'),
          idcode: form.text('idcode'),
          photoSha: form.text('photoSha'),
          confirmMix: form.ticked('confirmMix'),
        })
      }
      pending={pending}
      refusal={refusal}
      onDone={() => {
        setRound(round + 1)
        router.refresh()
      }}
      label={`Inspect ${tag}`}
    >
      <TextField name="reader" label="With what?" hint="Reader 1, meter 2 or by eye." maxLength={120} />
      <TextField name="symptom" label="What was seen" hint="Only what you saw, without conclusions." optional maxLength={500} />
      <SelectField name="verdict" label="What you conclude" options={choices.map((value) => ({ value, label: value }))} />
      {programmed && (
        <>
          <TextField name="imageSha256" label="SHA-256 of the image read back" optional mono maxLength={64} />
          <TextField name="idcode" label="Identification code" optional mono width="short" maxLength={10} />
        </>
      )}
      <PhotoField name="photoSha" label="Photograph" optional />
      {refusal?.fields.confirmMix !== undefined && (
        <CheckField name="confirmMix" label="It was erased: this is the same piece, now blank" />
      )}
      <SubmitButton>Save the inspection</SubmitButton>
    </CommandForm>
  )
}
