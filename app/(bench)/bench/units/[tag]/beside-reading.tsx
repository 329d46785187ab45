'use client'

import type { FormValues } from '#app/_ui/forms/form-values.ts'
import { PhotoField } from '#app/_ui/forms/photo-field.tsx'
import { TextareaField, TextField } from '#app/_ui/forms/text-fields.tsx'
import { keepPhoto, useReadingBox } from '#app/(bench)/bench/units/_waiting/reading-box.ts'
import type { FieldWords } from '#kernel/refusal'

export const BESIDE = ['note', 'departure', 'further', 'ambient']

/** What may be kept beside a figure: folded away, since most readings need none of it. */
export function BesideReading({ errors, dropped, slot }: { errors: FieldWords; dropped: File | null; slot: string }) {
  const taken = useReadingBox()?.photos[slot] ?? null
  return (
    <details open={dropped !== null || taken !== null || BESIDE.some((name) => errors[name] !== undefined) || undefined}>
      <summary>Note, departure, ambient, photograph</summary>
      <div className="stack">
        <TextareaField name="note" label="Note" hint="Stays at the bench." optional rows={2} maxLength={500} />
        <TextareaField
          name="departure"
          label="Departure from the method"
          hint="Anybody can read it: it is printed on the certificate and signed with it."
          optional
          rows={2}
          maxLength={500}
        />
        <TextField
          name="further"
          label="What else makes it doubtful"
          hint="Probe, leads, loading, temperature, each with how far it lets the reading be off: probe 1 %; leads 0.02 V."
          optional
          maxLength={300}
        />
        <TextField name="ambient" label="Ambient" optional hint="What the room was like, such as 21 °C." width="short" maxLength={60} />
        <PhotoField
          name="photograph"
          label="Photograph of the meter or the machine"
          hint="Or drop or paste a picture anywhere on this sheet. Nobody outside sees it unless the maker chooses so."
          optional
          onPhone={{ taken, take: (file) => keepPhoto(slot, file) }}
          given={dropped}
        />
      </div>
    </details>
  )
}

/** What the command takes of it. */
export const readBeside = (form: FormValues) => ({
  note: form.text('note'),
  departure: form.text('departure'),
  further: form.text('further'),
  ambient: form.text('ambient'),
})
